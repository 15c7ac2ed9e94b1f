import type { Bell } from '../../../core/bells/bell.ts';
import type { EpochMs } from '../../../core/time.ts';
import { headline, type Headline } from '../../../core/visit/headline.ts';
import { deedWords } from '../chair/act-words.ts';
import type { FloorMirror, StandingBell } from '../state/floor-mirror.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import type { Words } from '../words/words.ts';

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf' | 'serviceName'>;

/** The deed of a head, or what its bell asks for where the deed alone would not say why it rings; the number stays (V1). */
export function bellDeed(bell: Bell | null, line: Headline, names: Names, w: Words): string {
  const { asked } = w.pocket;
  const plain = deedWords(line, names, w);
  if (bell?.kind === 'pace' && line.deed === 'finish-by') return asked.pace;
  if (bell?.kind === 'begun?' && line.deed === 'prepare') return asked.begun;
  if (bell?.kind === 'water-on?' && line.deed === 'rinse-clear')
    return line.basin === null ? asked.waterOn : w.deedAt(asked.waterOn, names.labelOf(line.basin));
  if (bell?.kind === 'water' && line.deed === 'rinse-clear') return asked.water;
  return plain;
}

/** What a bell asks for that has nothing to do with the deed of its head, nor with that number; null for all others. */
export function ownDeed({ kind }: Bell, w: Words): string | null {
  const { asked } = w.pocket;
  if (kind === 'tingles') return asked.tingles;
  if (kind === 'back-to-rinse') return asked.backToRinse;
  return kind === 'help' ? asked.help : null;
}

/** What stands beside it: who asked, or what was seen. */
export function ownSaid({ bell, rung }: StandingBell, session: Pick<Session, 'mirror' | 'clock'>, w: Words): string {
  const { ownSaid: said, helpHere } = w.pocket;
  if (bell.kind === 'tingles' || bell.kind === 'back-to-rinse') return said[bell.kind];
  const asked = rung.acts[0];
  const by = session.mirror.nameOf(asked?.by ?? null);
  const clock = session.clock(asked?.at ?? bell.rungAt);
  return by === null ? helpHere.asked(clock) : helpHere.askedBy(by, clock);
}

/** The deed as it fills a screen: a head to be rinsed says so, and the close stands beside it as a clock time (E8). */
export function fullDeed(bell: Bell, line: Headline, names: Names, w: Words): string {
  const closing = line.deed === 'off-by' || line.deed === 'neutralizer-off-by';
  return bell.kind === 'rinse' && closing ? w.pocket.asked.rinse : bellDeed(bell, line, names, w);
}

/** In a line: the deed of its head, or what a bell of a chair or of the floor is about. */
export function bellDeedOf({ bell, visit }: StandingBell, session: Session, w: Words): string {
  const own = ownDeed(bell, w);
  if (own !== null || visit === null) return own ?? w.bells[bell.kind];
  return fullDeed(bell, headline(visit, session.contextOf(visit)), session.mirror, w);
}

interface At {
  readonly line: Headline | null;
  readonly opensAt: EpochMs | null;
  readonly now: EpochMs;
}

/** Why a bell stands, in a sentence. `soon` goes on standing into the window: near, and here, are two things. */
export function bellSaid({ kind }: Pick<Bell, 'kind'>, { line, opensAt, now }: At, w: Words): string {
  if (kind !== 'soon') return w.bells[kind];
  const open = line?.deed === 'off-by' ? opensAt !== null && now >= opensAt : line?.deed === 'neutralizer-off-by';
  return open ? w.pocket.soon.open : w.pocket.soon.near;
}

import { isHere, onShift, type People } from '../../../core/bells/circles.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { figureUntil } from '../../../core/visit/figure.ts';
import type { ReachTold } from '../../../shared/wire.ts';
import type { FloorMirror, StandingBell } from '../state/floor-mirror.svelte.ts';
import { figureText } from '../words/figure-text.ts';
import type { WallWords } from '../words/wall-words.ts';
import { bellWho, listed } from './who-words.ts';

/** Those to whom some bell that stands untaken was not shown in time, each once (R7). */
export function missedBy(bells: readonly StandingBell[], now: EpochMs): readonly PersonId[] {
  return [...new Set(bells.flatMap(({ bell }) => bellWho(bell, true, now).missed))];
}

export interface RoomSeen {
  readonly reach: ReachTold | null;
  readonly people: People;
  readonly now: EpochMs;
  /** Whether the room may read names (W4). */
  readonly named: boolean;
}

/** Wordings of who was not reached, longest first; '' where everybody was. */
export function missedWordings(
  missed: readonly PersonId[],
  named: boolean,
  names: Pick<FloorMirror, 'nameOf'>,
  { wall }: WallWords,
): readonly [string, ...string[]] {
  if (missed.length === 0) return [''];
  const people = missed.flatMap((id) => names.nameOf(id) ?? []);
  const counted = wall.missedCount(missed.length);
  return named && people.length === missed.length ? [wall.missed(listed(people, wall)), counted] : [counted];
}

/** Another wall than this one that is linked and cannot sound. */
export function otherWallSilent(reach: ReachTold | null, soundsHere: boolean): boolean {
  return reach !== null && reach.walls.silent > (soundsHere ? 0 : 1);
}

/** Phones that are quiet for a moment (R4), in as few words as it takes; null when none is. */
export function quietPhones(
  { reach, now, named }: RoomSeen,
  names: Pick<FloorMirror, 'nameOf'>,
  words: WallWords,
): string | null {
  const muted = (reach?.people ?? []).flatMap(({ person, mutedUntil }) =>
    mutedUntil !== null && mutedUntil > now ? [{ person, forMs: mutedUntil - now }] : [],
  );
  const longest = muted.reduce((most, one) => Math.max(most, one.forMs), 0);
  const [first] = muted;
  if (first === undefined) return null;
  const left = figureText(figureUntil(longest), words);
  const name = named && muted.length === 1 ? names.nameOf(first.person) : null;
  return name === null ? words.wall.phonesQuiet(muted.length, left) : words.wall.phoneQuiet(name, left);
}

/** Those who work and whom no device reaches now; null when there is none, or nobody knows. */
export function withoutPhone(
  { reach, people, now, named }: RoomSeen,
  names: Pick<FloorMirror, 'nameOf'>,
  { wall }: WallWords,
): string | null {
  const none = (reach?.people ?? []).filter(({ person, how }) => {
    const one = people[person];
    return how === 'no' && one !== undefined && isHere(one, now);
  });
  if (none.length === 0) return null;
  const said = none.flatMap(({ person }) => names.nameOf(person) ?? []);
  return named && said.length === none.length ? wall.noPhone(listed(said, wall)) : wall.noPhoneCount(none.length);
}

/** Nobody is on shift: whoever is there goes by the wall alone. */
export function nobodyOnShift({ people, now }: Pick<RoomSeen, 'people' | 'now'>): boolean {
  return !Object.values(people).some((one) => onShift(one, now));
}

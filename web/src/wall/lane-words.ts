import type { Bell } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import { headline, headlineFigure } from '../../../core/visit/headline.ts';
import type { Deed, Headline, HeadlineContext, Sureness } from '../../../core/visit/headline.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { basinOf } from '../state/floor-mirror.svelte.ts';
import type { ChairOnFloor, FloorMirror } from '../state/floor-mirror.svelte.ts';
import { figureText } from '../words/figure-text.ts';
import type { WallWords } from '../words/wall-words.ts';
import { goesNow } from '../../../core/bells/taking.ts';
import { whoWordings } from './who-words.ts';

/** A deed as one line; `basin` stands behind an arrow, `taken` behind both. */
export interface DeedWording {
  readonly deed: string;
  readonly basin: string | null;
  readonly taken: boolean;
}

/** What a lane says, left of its axis and right of it. */
export interface LaneWords {
  readonly level: BellLevel | null;
  /** Nobody sits there, and nothing rings. */
  readonly free: boolean;
  /** Nothing counts and nothing rings: said quietly. */
  readonly quiet: boolean;
  /** Longest first; the lane takes the first that fits beside its number. */
  readonly deeds: readonly [DeedWording, ...DeedWording[]];
  /** '' where the deed has no number. */
  readonly figure: string;
  readonly sureness: Sureness;
  readonly corrected: boolean;
  /** Who goes, who was not shown it, or whose; longest first. */
  readonly who: readonly [string, ...string[]];
}

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf'>;

/** What rings at a chair itself, whoever sits there, and what is said of people. */
export interface LaneAround {
  readonly bells: readonly Bell[];
  /** Whether the room may read names (W4). */
  readonly named: boolean;
  /** Whether a bell at this chair asks anybody who is here. */
  readonly asked: (bell: Bell) => boolean;
}

/** The bell a lane shows: the most urgent; of two alike the one that nobody has taken, then the older. */
export function loudest(bells: readonly Bell[]): Bell | null {
  let first: Bell | null = null;
  for (const bell of bells) if (first === null || before(bell, first)) first = bell;
  return first;
}

function before(a: Bell, b: Bell): boolean {
  const level = rankOf(a.level) - rankOf(b.level);
  if (level !== 0) return level > 0;
  if ((a.taken === null) !== (b.taken === null)) return a.taken === null;
  return a.rungAt < b.rungAt;
}

/** "Taken" belongs to the deed where somebody else might go in vain: from CAUTION on, which is what sounds. */
export function saysTaken(bell: Bell | null, now: EpochMs): boolean {
  return bell !== null && goesNow(bell, now) !== null && rankOf(bell.level) >= rankOf('CAUTION');
}

export function laneWords(
  chair: ChairOnFloor,
  around: LaneAround,
  context: HeadlineContext,
  names: Names,
  words: WallWords,
): LaneWords {
  const { visit } = chair;
  if (visit === null) return freeLane(loudest(around.bells), around, context.now, names, words);
  const line = headline(visit, context);
  const bell = loudest([...visit.bells, ...around.bells]);
  const figure = hidesNumber(bell, line) ? null : headlineFigure(line, context.now);
  return {
    level: bell?.level ?? null,
    free: false,
    quiet: bell === null && figure === null,
    deeds: deedWordings(visit, line, bell, context.now, names, words),
    figure: figure === null ? '' : figureText(figure, words),
    sureness: line.sureness,
    corrected: line.corrected,
    who: whoWordings(whoAt(bell, visit.stylist, around), context.now, names, words),
  };
}

/** Deeds whose number is a least time: nothing is lost if it is not seen for a moment. */
const leastTimes: readonly Deed[] = ['keep-rinsing', 'rinse-clear', 'shampoo', 'neutralizer-rinse', 'condition'];

/**
 * Back to the rinse, and to look at a scalp, there is nothing to wait for; beside "help here" the minimum of a rinse would read as if help
 * were wanted by then: the number is not that deed's (V1). The window stands in the lane all the same.
 */
function hidesNumber(bell: Bell | null, { deed }: Headline): boolean {
  if (bell?.kind === 'back-to-rinse' || bell?.kind === 'tingles') return true;
  return bell?.kind === 'help' && leastTimes.includes(deed);
}

function whoAt(bell: Bell | null, stylist: PersonId | null, { bells, named, asked }: LaneAround) {
  const helpToo = bell !== null && bells.length > 0 && !bells.includes(bell);
  return { bell, stylist, asked: bell !== null && asked(bell), helpToo, named };
}

/** Nobody sits there; help may be wanted all the same. */
function freeLane(bell: Bell | null, around: LaneAround, now: EpochMs, names: Names, words: WallWords): LaneWords {
  const { full, short, least } = words.wall.asked.help;
  const taken = saysTaken(bell, now);
  const wordings = bell === null ? [words.lane.free] : taken ? [short, least] : [full, short];
  return {
    level: bell?.level ?? null,
    free: bell === null,
    quiet: bell === null,
    deeds: wordings.map((deed) => ({ deed, basin: null, taken })) as [DeedWording, ...DeedWording[]],
    figure: '',
    sureness: 'firm',
    corrected: false,
    who: whoWordings(whoAt(bell, null, around), now, names, words),
  };
}

function deedWordings(
  visit: VisitFacts,
  line: Headline,
  bell: Bell | null,
  now: EpochMs,
  names: Names,
  words: WallWords,
): LaneWords['deeds'] {
  const { wall, deeds, deedCount } = words;
  const at = hidesNumber(bell, line) ? null : (line.basin ?? basinOf(visit));
  const basin = at === null ? null : names.labelOf(at);
  const plain = deeds[line.deed];
  const short = line.count === null ? plain : wall.shortCount(plain, line.count.now, line.count.of);
  const full = line.count === null ? plain : deedCount(plain, line.count.now, line.count.of);
  const asked = askedBy(bell, line, short, words);
  if (saysTaken(bell, now)) {
    const least: DeedWording = { deed: asked?.least ?? wall.taking[line.deed], basin: null, taken: true };
    return [{ deed: asked?.short ?? short, basin, taken: true }, { ...least, basin }, least];
  }
  const wordings: DeedWording[] = [
    ...(asked === null ? [] : [asked.full, asked.short].map((deed) => ({ deed, basin, taken: false }))),
    ...(asked === null ? [] : [{ deed: asked.short, basin: null, taken: false }]),
    { deed: full, basin, taken: false },
    { deed: short, basin, taken: false },
    { deed: short, basin: null, taken: false },
  ];
  return wordings as [DeedWording, ...DeedWording[]];
}

interface Asked {
  readonly full: string;
  readonly short: string;
  readonly least: string;
}

/** What a bell asks for beyond the deed, which alone would not say why it rings. The number stays the deed's (V1). */
function askedBy(bell: Bell | null, { deed }: Headline, short: string, { wall }: WallWords): Asked | null {
  const kind = bell?.kind;
  switch (kind) {
    case 'pace':
      return deed === 'finish-by' ? wall.asked.pace : null;
    case 'begun?':
      return deed === 'prepare' ? wall.asked.begun : null;
    case 'water-on?':
      return deed === 'rinse-clear' ? wall.asked.waterOn : null;
    case 'water':
      return deed === 'rinse-clear' ? wall.asked.water : null;
    case 'dwell':
      return { full: wall.asked.dwell.full(short), short: wall.asked.dwell.short(short), least: short };
    case 'long-stage':
      return { full: wall.asked.tooLong(short), short: wall.asked.tooLong(short), least: wall.taking[deed] };
    case 'back-to-rinse':
      return wall.asked.backToRinse;
    case 'tingles':
      return wall.asked.tingles;
    case 'help':
      // The number is the head's own, so its deed is said with it where there is room.
      return leastTimes.includes(deed) ? wall.asked.help : { ...wall.asked.help, full: wall.asked.helpAt(short) };
    case 'unattended':
    case 'nobody-reached':
    case 'test':
    case 'soon':
    case 'rinse':
    case 'over':
    case 'burns':
    case 'abandoned':
    case 'time-uncertain':
    case 'not-saved':
    case undefined:
      return null;
    default:
      return kind satisfies never;
  }
}

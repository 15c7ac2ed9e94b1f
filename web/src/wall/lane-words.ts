import type { Bell } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import { headline, headlineFigure } from '../../../core/visit/headline.ts';
import type { Headline, HeadlineContext, Sureness } from '../../../core/visit/headline.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { basinOf } from '../state/floor-mirror.svelte.ts';
import type { ChairOnFloor, FloorMirror } from '../state/floor-mirror.svelte.ts';
import { figureText } from '../words/figure-text.ts';
import type { WallWords } from '../words/wall-words.ts';

/** A deed as one line; `basin` stands behind an arrow, `taken` behind both. */
export interface DeedWording {
  readonly deed: string;
  readonly basin: string | null;
  readonly taken: boolean;
}

/** What a lane says, left of its axis and right of it. */
export interface LaneWords {
  readonly level: BellLevel | null;
  /** Nobody sits there. */
  readonly free: boolean;
  /** Nothing counts and nothing rings: said quietly. */
  readonly quiet: boolean;
  /** Longest first; the lane takes the first that fits beside its number. */
  readonly deeds: readonly [DeedWording, ...DeedWording[]];
  /** '' where the deed has no number. */
  readonly figure: string;
  readonly sureness: Sureness;
  readonly corrected: boolean;
  /** Taken by, or whose. */
  readonly who: string;
}

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf'>;

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
export function saysTaken(bell: Bell | null): boolean {
  return bell !== null && bell.taken !== null && rankOf(bell.level) >= rankOf('CAUTION');
}

export function laneWords(chair: ChairOnFloor, context: HeadlineContext, names: Names, words: WallWords): LaneWords {
  const { visit } = chair;
  if (visit === null) return freeLane(words);
  const line = headline(visit, context);
  const figure = headlineFigure(line, context.now);
  const bell = loudest(visit.bells);
  return {
    level: bell?.level ?? null,
    free: false,
    quiet: bell === null && figure === null,
    deeds: deedWordings(visit, line, bell, names, words),
    figure: figure === null ? '' : figureText(figure, words),
    sureness: line.sureness,
    corrected: line.corrected,
    who: whoseLane(visit, bell, names, words),
  };
}

function freeLane(words: WallWords): LaneWords {
  return {
    level: null,
    free: true,
    quiet: true,
    deeds: [{ deed: words.lane.free, basin: null, taken: false }],
    figure: '',
    sureness: 'firm',
    corrected: false,
    who: '',
  };
}

function whoseLane(visit: VisitFacts, bell: Bell | null, names: Names, { wall }: WallWords): string {
  if (bell?.taken) {
    const taker = names.nameOf(bell.taken.by);
    return taker === null ? wall.taken : wall.takenBy(taker);
  }
  return names.nameOf(visit.stylist) ?? '';
}

function deedWordings(
  visit: VisitFacts,
  line: Headline,
  bell: Bell | null,
  names: Names,
  words: WallWords,
): LaneWords['deeds'] {
  const { wall, deeds, deedCount } = words;
  const at = line.basin ?? basinOf(visit);
  const basin = at === null ? null : names.labelOf(at);
  const plain = deeds[line.deed];
  const short = line.count === null ? plain : wall.shortCount(plain, line.count.now, line.count.of);
  const full = line.count === null ? plain : deedCount(plain, line.count.now, line.count.of);
  const asked = askedBy(bell, line, short, words);
  if (saysTaken(bell)) {
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
      return wall.asked.help;
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

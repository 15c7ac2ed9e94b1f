import type { BellKind } from '../../../core/bells/bell.ts';
import type { PlaceNumber } from '../../../core/ids.ts';
import type { Gap } from '../../../core/floor.ts';
import type { LinkPhase } from '../state/link.svelte.ts';
import type { RenewalState } from '../state/renew.svelte.ts';
import type { WallWords } from '../words/wall-words.ts';
import type { LevelCount } from './tally.ts';

/** One level of the tally: its word and count, or its word and the plates of its chairs. */
export interface TallyWord {
  readonly text: string;
  readonly chairs: readonly PlaceNumber[];
}

/** So many plates stand in the tally; with more chairs than that it counts them as well. */
const MOST_PLATES = 3;

/**
 * Wordings of the tally, longest first: what is left out first is what is least urgent. DANGER names its chairs. That nothing
 * rings is only said where it is `known`: a wall without its server cannot tell.
 */
export function tallyWordings(
  counts: readonly LevelCount[],
  known: boolean,
  words: WallWords,
): readonly [TallyWord[], ...TallyWord[][]] {
  const said = counts.map((count) => tallyWord(count, words));
  if (said.length === 0) return [known ? [{ text: words.wall.quiet, chairs: [] }] : []];
  return said.map((_, left) => said.slice(0, said.length - left)) as [TallyWord[], ...TallyWord[][]];
}

/** The tally, and who was not reached behind it; '' where everybody was. */
export interface Saying {
  readonly tally: readonly TallyWord[];
  readonly missed: string;
}

/** Names give way to their number first, then the least urgent level: that somebody was not reached stays said. */
export function withMissed(
  tallies: readonly [TallyWord[], ...TallyWord[][]],
  missed: readonly [string, ...string[]],
): readonly [Saying, ...Saying[]] {
  const all: readonly Saying[] = tallies.flatMap((tally) => missed.map((one) => ({ tally, missed: one })));
  return all as [Saying, ...Saying[]];
}

function tallyWord({ level, heads, chairs }: LevelCount, words: WallWords): TallyWord {
  const word = words.levels[level];
  const named = level === 'DANGER' ? chairs.slice(0, MOST_PLATES) : [];
  return { text: named.length > 0 && named.length === heads ? word : words.levelCount(word, heads), chairs: named };
}

export interface LinkFacts {
  readonly phase: LinkPhase;
  readonly silentForMs: number | null;
  /** What is shown was heard before this page was opened. */
  readonly keptAt: number | null;
  readonly now: number;
  readonly clock: (at: number) => string;
  readonly renewal: RenewalState;
}

/** Not heard for longer than this, a server counts as gone (R10), ms. */
const SILENT_MS = 5_000;

/** What is wrong with the line to the server, said in the top line; null when nothing is. */
export function linkFault(
  { phase, silentForMs, keptAt, now, clock, renewal }: LinkFacts,
  words: WallWords,
): string | null {
  const { wall } = words;
  if (phase === 'refused') return renewal === 'ready' ? wall.reloading : wall.older;
  if (phase === 'again') return null;
  const silent = silentForMs !== null && silentForMs > SILENT_MS;
  if (phase === 'linked' && !silent) return null;
  if (silentForMs === null) return keptAt === null ? wall.linkNever : wall.linkLost(clock(keptAt));
  return wall.linkLost(clock(now - silentForMs));
}

/** Bells of the floor in words, each once; kinds whose subject is a head are said in its lane. */
export function floorWords(kinds: readonly BellKind[], unsaved: boolean, { wall }: WallWords): readonly string[] {
  const all = unsaved ? [...kinds, 'not-saved' as const] : kinds;
  const said = all.flatMap((kind) =>
    kind === 'time-uncertain' || kind === 'not-saved' || kind === 'nobody-reached' ? [wall.floorBells[kind]] : [],
  );
  return [...new Set(said)];
}

/** A gap is told for so long after it ended: as long as a head of then may still be on the floor. */
const GAP_TOLD_MS = 2 * 60 * 60_000;

export function gapWords(
  gap: Gap | null,
  now: number,
  clock: (at: number) => string,
  { wall, units }: WallWords,
): string | null {
  if (gap === null || now - gap.toAt > GAP_TOLD_MS) return null;
  const seconds = Math.round((gap.toAt - gap.fromAt) / 1_000);
  // Two clock times that read alike would tell nothing.
  if (seconds < 60) return wall.gapShort(units.seconds(seconds), clock(gap.fromAt));
  return wall.gap(clock(gap.fromAt), clock(gap.toAt));
}

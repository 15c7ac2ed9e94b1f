import { certainClose, latestFinish, windowOf } from '../exposure/window.ts';
import { minimumAt, neutralizeStep, neutralizerWindow, shampoosWanted } from '../exposure/finishing.ts';
import { nextTestAt } from '../exposure/strand-tests.ts';
import type { PlaceNumber } from '../ids.ts';
import type { Figures } from '../salon/salon.ts';
import type { EpochMs } from '../time.ts';
import { figureSince, figureUntil, type Figure } from './figure.ts';
import { isUnattended } from './unattended.ts';
import { currentPass, type Pass, type VisitFacts } from './visit.ts';

/** What has to be done next at a head; the screens put it into words (V1). */
export const deeds = [
  'prepare',
  'apply',
  'finish-by',
  'look',
  'test',
  'rinse-from',
  'off-by',
  'rinse-now',
  'to-the-water',
  'keep-rinsing',
  'rinse-clear',
  'shampoo',
  'neutralizer-on',
  'neutralizer-off-from',
  'neutralizer-off-by',
  'neutralizer-off-now',
  'neutralizer-rinse',
  'neutralize-done',
  'condition',
  'dry',
  'finished',
  'left-with-product',
  'unattended',
] as const;
export type Deed = (typeof deeds)[number];

/** How far a number can be trusted (V2). `corrected`: a correction moved its close later (X1). */
export type Sureness = 'firm' | 'expected' | 'uncertain';

/** The one deed and the one number of a lane (V1). */
export interface Headline {
  readonly deed: Deed;
  /** What the number counts to, or from; null where the deed has no number. */
  readonly number: { readonly to: EpochMs } | { readonly from: EpochMs } | null;
  readonly sureness: Sureness;
  readonly corrected: boolean;
  /** Basin at which the deed is being done, where known. */
  readonly basin: PlaceNumber | null;
  /** Which shampoo is on, and how many are wanted. */
  readonly count: { readonly now: number; readonly of: number } | null;
}

export interface HeadlineContext {
  readonly now: EpochMs;
  readonly figures: Figures;
  /** Whether the floor's time itself is uncertain (T3). */
  readonly uncertain: boolean;
}

const plain = { number: null, sureness: 'firm', corrected: false, basin: null, count: null } as const;

/** The one deed and number of a visit, the same on every screen (V1). */
export function headline(visit: VisitFacts, context: HeadlineContext): Headline {
  const line = undisturbed(visit, context);
  if (!context.uncertain || line.number === null) return line;
  return { ...line, sureness: 'uncertain' };
}

/** The headline's number as painted at an instant; null where the deed has none. */
export function headlineFigure(line: Headline, now: EpochMs): Figure | null {
  if (line.number === null) return null;
  return 'to' in line.number ? figureUntil(line.number.to - now) : figureSince(now - line.number.from);
}

function undisturbed(visit: VisitFacts, context: HeadlineContext): Headline {
  const { burns } = visit;
  if (burns !== null && burns.closed === null && visit.stage === 'rinse') {
    const basin = currentPass(visit)?.water?.basin ?? null;
    if (burns.waterAt === null) return { ...plain, deed: 'to-the-water' };
    return { ...plain, deed: 'keep-rinsing', number: { from: burns.waterAt }, basin };
  }
  if (isUnattended(visit, context.now)) return { ...plain, deed: 'unattended' };
  const pass = currentPass(visit);
  switch (visit.stage) {
    case 'prep':
      return { ...plain, deed: 'prepare' };
    case 'apply':
    case 'process':
      return pass === null ? { ...plain, deed: 'apply' } : onHair(visit, pass, context);
    case 'rinse':
      return {
        ...plain,
        deed: 'rinse-clear',
        number: ahead(minimumAt(visit), context.now),
        basin: pass?.water?.basin ?? null,
      };
    case 'neutralize':
      return pass === null ? { ...plain, deed: 'neutralize-done' } : neutralizing(visit, pass, context.now);
    case 'condition':
      return { ...plain, deed: 'condition', number: ahead(minimumAt(visit), context.now) };
    case 'dry':
      return { ...plain, deed: 'dry' };
    case 'finished':
      return {
        ...plain,
        deed: visit.end === 'abandoned-with-product' && visit.settled === null ? 'left-with-product' : 'finished',
      };
    default:
      return visit.stage satisfies never;
  }
}

/** A minimum counts down and then shows no number (V1). */
function ahead(at: EpochMs | null, now: EpochMs): { readonly to: EpochMs } | null {
  return at !== null && now < at ? { to: at } : null;
}

/** In apply *finish by* until `rinse` stands; then, and in process, a strand *test*, *rinse from* and *off by* (V1). */
function onHair(visit: VisitFacts, pass: Pass, { now, figures }: HeadlineContext): Headline {
  const window = windowOf(pass, now);
  if (window === null) return { ...plain, deed: pass.beginUnknown ? 'rinse-now' : 'apply' };
  const rinseStands = visit.bells.some((bell) => bell.cause === 'off' && bell.kind !== 'soon');
  const corrected = pass.closeBought;
  if (visit.stage === 'apply' && !rinseStands) {
    const finishBy = latestFinish(pass, figures);
    return finishBy === null
      ? { ...plain, deed: 'apply' }
      : { ...plain, deed: 'finish-by', number: { to: finishBy }, corrected };
  }
  // Nobody knows how much of it has passed: no number could be true (T3).
  if (visit.timeLostAt !== null && now < window.closesAt) return { ...plain, deed: 'look', corrected };
  // In apply opens is expected; the close is certain as far as it hangs on first touch (E3, E7).
  const closing: Sureness = window.closesAt === certainClose(pass) ? 'firm' : 'expected';
  const opening: Sureness = window.expected ? 'expected' : 'firm';
  const testAt = rinseStands ? null : nextTestAt(pass, window.closesAt);
  if (testAt !== null && (testAt < Math.min(window.opensAt, window.closesAt) || now >= testAt)) {
    return { ...plain, deed: 'test', number: { to: testAt }, corrected };
  }
  // With room below zero the close wins (E4): "from" would name an instant that is already the last one.
  if (now < window.opensAt && window.opensAt <= window.closesAt) {
    return { ...plain, deed: 'rinse-from', number: { to: window.opensAt }, sureness: opening, corrected };
  }
  const deed = now >= window.closesAt ? 'rinse-now' : 'off-by';
  return { ...plain, deed, number: { to: window.closesAt }, sureness: closing, corrected };
}

function neutralizing(visit: VisitFacts, pass: Pass, now: EpochMs): Headline {
  const step = neutralizeStep(pass);
  if (step === null) return { ...plain, deed: 'neutralize-done' };
  const minimum = ahead(minimumAt(visit), now);
  if (step.kind === 'shampoos') {
    const of = shampoosWanted(pass, step);
    const done = pass.shampoos.length;
    if (done >= of) return { ...plain, deed: 'neutralize-done', count: { now: done, of } };
    return { ...plain, deed: 'shampoo', number: minimum, count: { now: done + 1, of } };
  }
  if (pass.neutralizerWater !== null) {
    return { ...plain, deed: 'neutralizer-rinse', number: minimum, basin: pass.neutralizerWater.basin };
  }
  const window = neutralizerWindow(pass);
  if (window === null) return { ...plain, deed: 'neutralizer-on' };
  if (now < window.opensAt) return { ...plain, deed: 'neutralizer-off-from', number: { to: window.opensAt } };
  return {
    ...plain,
    deed: now >= window.closesAt ? 'neutralizer-off-now' : 'neutralizer-off-by',
    number: { to: window.closesAt },
  };
}

import type { FinishingStep, HeatLimits, PartPlan, Rules } from '../../../../core/directions/rules.ts';
import { MINUTE, SECOND, type Ms } from '../../../../core/time.ts';
import { wordLimits } from '../../../../shared/protocol.ts';
import { contradictions } from './contradictions.ts';
import type { DirectionsDraft, StepDraft } from './directions-draft.ts';
import { faultAt, wordFault, type FieldFault } from './fault.ts';
import { MOST_PARTS, type PartDraft } from './part-plan.ts';
import { LONGEST, Reader } from './reader.ts';

/** Why no window is drawn: figures are not all in; a product of this kind wants a ceiling; what is in contradicts itself. */
export type NoWindow = 'wait' | 'ceiling' | 'wrong';

export interface DraftReading {
  /** Null while anything is missing or wrong. */
  readonly rules: Rules | null;
  /** Enough of it to draw the window by: what only matters after the rinse may still be missing. */
  readonly forWindow: Rules | NoWindow;
  readonly faults: readonly FieldFault[];
}

function readPart(reader: Reader, part: PartDraft, i: number): PartPlan {
  return {
    place: part.place,
    share: reader.share(`parts.${i}.share`, part.share),
    ceilingMs: reader.minutesOrNull(`parts.${i}.ceilingMs`, part.ceiling),
  };
}

function readStep(reader: Reader, step: StepDraft, i: number): FinishingStep {
  const field = (name: string): string => `finishing.${i}.${name}`;
  switch (step.kind) {
    case 'shampoos':
      return {
        kind: 'shampoos',
        count: reader.count(field('count'), step.count, 1, 10),
        dwellMs: reader.minutesUpTo(field('dwellMs'), step.dwell),
        proof: step.proof,
        stripLimit: step.proof === 'strip' ? reader.numberOrNull(field('stripLimit'), step.stripLimit, 0, 14) : null,
      };
    case 'neutralizer':
      return {
        kind: 'neutralizer',
        minAfterMs: reader.minutesUpTo(field('minAfterMs'), step.minAfter),
        maxAfterMs: reader.most(field('maxAfterMs'), step.maxAfter),
        rinseMs: reader.minutesUpTo(field('rinseMs'), step.rinse),
        rods: step.rods,
      };
    case 'condition':
      return { kind: 'condition', dwellMs: reader.minutesUpTo(field('dwellMs'), step.dwell) };
    default:
      return step.kind satisfies never;
  }
}

/** The first strand test defaults to half of the least time after the end (rule E6). */
export function usualFirstTest(minAfterMs: Ms): Ms {
  return Math.round(minAfterMs / 2 / SECOND) * SECOND;
}

/** Figures under heat: all of them or none; only where heat is allowed do they say anything (E10). */
function readHeat(reader: Reader, draft: DirectionsDraft): HeatLimits | null {
  const typed = [draft.heatMinAfter, draft.heatMaxAfter, draft.heatCeiling].some((text) => text.trim() !== '');
  if (draft.heat !== 'allowed' || !typed) return null;
  return {
    minAfterMs: reader.minutesUpTo('underHeat.minAfterMs', draft.heatMinAfter),
    maxAfterMs: reader.most('underHeat.maxAfterMs', draft.heatMaxAfter),
    ceilingMs: reader.minutesOrNull('underHeat.ceilingMs', draft.heatCeiling),
  };
}

function readRules(reader: Reader, draft: DirectionsDraft): Rules {
  if (draft.class === '') reader.faults.push(faultAt('class', 'missing'));
  reader.count('partCount', draft.partCount, 1, MOST_PARTS);
  const minAfterMs = reader.minutes('minAfterMs', draft.minAfter, 0);
  return {
    class: draft.class === '' ? 'colour' : draft.class,
    nominalMs: reader.minutes('nominalMs', draft.nominal, 15 * MINUTE),
    minAfterMs,
    maxAfterMs: reader.minutes('maxAfterMs', draft.maxAfter, LONGEST),
    ceilingMs: reader.minutesOrNull('ceilingMs', draft.ceiling),
    minTotalMs: reader.minutesOrNull('minTotalMs', draft.minTotal),
    manner: draft.manner,
    parts: draft.parts.map((part, i) => readPart(reader, part, i)),
    firstTestMs: reader.minutesOrNull('firstTestMs', draft.firstTest) ?? usualFirstTest(minAfterMs),
    testEveryMs: reader.minutes('testEveryMs', draft.testEvery, 5 * MINUTE),
    graceMs: reader.minutes('graceMs', draft.grace, 0),
    rinseMs: reader.minutes('rinseMs', draft.rinse, 0),
    finishing: draft.finishing.map((step, i) => readStep(reader, step, i)),
    heat: draft.heat,
    underHeat: readHeat(reader, draft),
    headsPerContainer: reader.numberOrNull('headsPerContainer', draft.heads, 0.5, 100),
    washAfterHours: reader.numberOrNull('washAfterHours', draft.washAfter, 0, 10_000),
    colourAfterDays: reader.numberOrNull('colourAfterDays', draft.colourAfter, 0, 1_000),
  };
}

/** Everything the window and the strand tests hang on (E2–E4, E6, E10). */
const windowFields =
  /^(class|nominalMs|minAfterMs|maxAfterMs|ceilingMs|minTotalMs|partCount|parts|firstTestMs|testEveryMs|underHeat)/;

function noWindow(draft: DirectionsDraft, figures: readonly FieldFault[]): NoWindow | null {
  const blocks = figures.filter(({ field }) => windowFields.test(field) && field !== 'class');
  // Whether it may do without a ceiling hangs on the kind (E3).
  const kindWanted = draft.class === '' && draft.ceiling.trim() === '';
  if (kindWanted || blocks.some(({ fault }) => fault === 'missing')) return 'wait';
  if (blocks.length === 0) return null;
  return blocks.every(({ fault }) => fault === 'ceiling-missing') ? 'ceiling' : 'wrong';
}

/**
 * What is typed, as core's rules, with all that is wrong: what cannot be read, then what contradicts itself. A field that
 * cannot be read is named once.
 */
export function readDraft(draft: DirectionsDraft): DraftReading {
  const reader = new Reader();
  const rules = readRules(reader, draft);
  const unread = new Set(reader.faults.map(({ field }) => field));
  // What a share that cannot be read would add to the sum is not known.
  if (reader.faults.some(({ field }) => /^parts\.\d+\.share$/.test(field))) unread.add('parts');
  const words = [
    wordFault('name', draft.name, wordLimits.name),
    wordFault('source', draft.source, wordLimits.source),
  ].filter((fault) => fault !== null);
  const contradict = contradictions(rules).filter(
    // A figure under heat is later than one that could be read, or it says nothing.
    ({ field, fault }) =>
      !unread.has(field) && !(fault === 'heat-later' && unread.has(field.replace('underHeat.', ''))),
  );
  const figures = [...reader.faults, ...contradict];
  return {
    rules: figures.length === 0 ? rules : null,
    forWindow: noWindow(draft, figures) ?? rules,
    faults: [...words, ...figures],
  };
}

import { checkRules, type RulesFault } from '../../../../core/directions/check.ts';
import type { FinishingStep, HeatLimits, PartPlan, Rules } from '../../../../core/directions/rules.ts';
import { HOUR, MINUTE, SECOND, type Ms } from '../../../../core/time.ts';
import { wordLimits } from '../../../../shared/protocol.ts';
import type { DirectionsDraft, PartDraft, StepDraft } from './directions-draft.ts';
import { faultAt, wordFault, type FieldFault } from './fault.ts';
import { minutesText, minutesTyped, numberTyped, wholeTyped } from './minutes.ts';

export interface DraftReading {
  /** Null while anything is missing or wrong. */
  readonly rules: Rules | null;
  /**
   * Enough of it to draw the window by: what only matters after the rinse may still be missing. `wait`: minutes are not
   * all in; `wrong`: they are, and contradict each other.
   */
  readonly forWindow: Rules | 'wait' | 'wrong';
  readonly faults: readonly FieldFault[];
}

/** Longest step that core/directions/check.ts lets through. */
const LONGEST: Ms = 3 * HOUR;

/** Reads fields one by one; what cannot be read is noted and stands in for itself with a value that breaks no rule. */
class Reader {
  readonly faults: FieldFault[] = [];

  minutes(field: string, text: string, standIn: Ms): Ms {
    const typed = minutesTyped(text);
    if (typed.kind === 'value') return typed.value;
    this.faults.push(faultAt(field, typed.kind === 'empty' ? 'missing' : 'not-minutes'));
    return standIn;
  }

  /** A span that core's check does not look at. */
  minutesUpTo(field: string, text: string): Ms {
    const value = this.minutes(field, text, 0);
    if (value > LONGEST) this.faults.push(faultAt(field, 'out-of-range', '0', minutesText(LONGEST)));
    return value;
  }

  minutesOrNull(field: string, text: string): Ms | null {
    const typed = minutesTyped(text);
    if (typed.kind === 'not') this.faults.push(faultAt(field, 'not-minutes'));
    return typed.kind === 'value' ? typed.value : null;
  }

  numberOrNull(field: string, text: string, most: number): number | null {
    const typed = numberTyped(text);
    if (typed.kind === 'not') this.faults.push(faultAt(field, 'not-number'));
    if (typed.kind !== 'value') return null;
    if (typed.value > most) this.faults.push(faultAt(field, 'out-of-range', '0', String(most)));
    return typed.value;
  }

  count(field: string, text: string, least: number, most: number): number {
    const typed = wholeTyped(text);
    if (typed.kind !== 'value') {
      this.faults.push(faultAt(field, typed.kind === 'empty' ? 'missing' : 'not-whole'));
      return least;
    }
    if (typed.value < least || typed.value > most) {
      this.faults.push(faultAt(field, 'out-of-range', String(least), String(most)));
    }
    return typed.value;
  }
}

function readPart(reader: Reader, part: PartDraft, i: number): PartPlan {
  const share = numberTyped(part.share);
  if (share.kind !== 'value') reader.faults.push(faultAt(`parts.${i}.share`, 'not-number'));
  return {
    place: part.place,
    share: share.kind === 'value' ? share.value / 100 : 0,
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
        stripLimit: step.proof === 'strip' ? reader.numberOrNull(field('stripLimit'), step.stripLimit, 14) : null,
      };
    case 'neutralizer':
      return {
        kind: 'neutralizer',
        minAfterMs: reader.minutesUpTo(field('minAfterMs'), step.minAfter),
        // A missing longest stands in above any shortest, so that it alone is named.
        maxAfterMs:
          step.maxAfter.trim() === ''
            ? missingMost(reader, field('maxAfterMs'))
            : reader.minutesUpTo(field('maxAfterMs'), step.maxAfter),
        rinseMs: reader.minutesUpTo(field('rinseMs'), step.rinse),
        rods: step.rods,
      };
    case 'condition':
      return { kind: 'condition', dwellMs: reader.minutesUpTo(field('dwellMs'), step.dwell) };
    default:
      return step.kind satisfies never;
  }
}

function missingMost(reader: Reader, field: string): Ms {
  reader.faults.push(faultAt(field, 'missing'));
  return LONGEST;
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
    maxAfterMs:
      draft.heatMaxAfter.trim() === ''
        ? missingMost(reader, 'underHeat.maxAfterMs')
        : reader.minutesUpTo('underHeat.maxAfterMs', draft.heatMaxAfter),
    ceilingMs: reader.minutesOrNull('underHeat.ceilingMs', draft.heatCeiling),
  };
}

function readRules(reader: Reader, draft: DirectionsDraft): Rules {
  if (draft.class === '') reader.faults.push(faultAt('class', 'missing'));
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
    headsPerContainer: reader.numberOrNull('headsPerContainer', draft.heads, 100),
    washAfterHours: reader.numberOrNull('washAfterHours', draft.washAfter, 10_000),
    colourAfterDays: reader.numberOrNull('colourAfterDays', draft.colourAfter, 1_000),
  };
}

/** Least and most of core's range check, for the sentence that says them. */
const leastOf: Readonly<Record<string, string>> = {
  nominalMs: '1',
  maxAfterMs: '1',
  ceilingMs: '1',
  minTotalMs: '1',
  testEveryMs: '0:30',
};

function ofCore({ field, fault }: RulesFault): FieldFault {
  return fault === 'out-of-range'
    ? faultAt(field, fault, leastOf[field] ?? '0', minutesText(LONGEST))
    : faultAt(field, fault);
}

/** Everything the window hangs on (E2–E4). */
const windowFields = /^(class|nominalMs|minAfterMs|maxAfterMs|ceilingMs|minTotalMs|parts)/;

/**
 * What is typed, as core's rules, with all that is wrong: what cannot be read, then what contradicts itself
 * (core/directions/check.ts). A field that cannot be read is named once.
 */
export function readDraft(draft: DirectionsDraft): DraftReading {
  const reader = new Reader();
  const rules = readRules(reader, draft);
  const unread = new Set(reader.faults.map(({ field }) => field));
  const words = [
    wordFault('name', draft.name, wordLimits.name),
    wordFault('source', draft.source, wordLimits.source),
  ].filter((fault) => fault !== null);
  const contradictions = checkRules(rules)
    .filter(({ field }) => !unread.has(field))
    .map(ofCore);
  const figures = [...reader.faults, ...contradictions];
  const blocks = figures.filter(({ field }) => windowFields.test(field) && field !== 'class');
  const waits = blocks.some(({ fault }) => fault === 'missing');
  return {
    rules: figures.length === 0 ? rules : null,
    forWindow: blocks.length === 0 ? rules : waits ? 'wait' : 'wrong',
    faults: [...words, ...figures],
  };
}

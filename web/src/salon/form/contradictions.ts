import { checkRules, type RulesFault } from '../../../../core/directions/check.ts';
import type { HeatLimits, Rules } from '../../../../core/directions/rules.ts';
import type { Ms } from '../../../../core/time.ts';
import { faultAt, type FieldFault } from './fault.ts';
import { minutesText, numberText } from './minutes.ts';
import { LONGEST } from './reader.ts';

/** Least of core's range check, for the sentence that says it. */
const leastOf: Readonly<Record<string, string>> = {
  nominalMs: '1',
  maxAfterMs: '1',
  ceilingMs: '1',
  minTotalMs: '1',
  testEveryMs: '0:30',
};

const textOrNull = (ms: Ms | null): string | null => (ms === null ? null : minutesText(ms));

/** Core's fault with the figure that it is measured by, so that the sentence can name it. */
function ofCore({ field, fault }: RulesFault, rules: Rules): FieldFault {
  const warm = field.startsWith('underHeat.');
  const limits = warm && rules.underHeat !== null ? rules.underHeat : rules;
  const name = field.split('.').at(-1) ?? field;
  switch (fault) {
    case 'out-of-range':
      return faultAt(field, fault, leastOf[name] ?? '0', minutesText(LONGEST));
    case 'max-below-min':
      return faultAt(field, fault, field.startsWith('finishing') ? null : minutesText(limits.minAfterMs));
    case 'ceiling-below-min': {
      const ofPart = field.startsWith('parts.');
      return faultAt(
        field,
        fault,
        minutesText(ofPart ? rules.minAfterMs : Math.max(limits.minAfterMs, rules.minTotalMs ?? 0)),
      );
    }
    case 'part-ceiling-above-head':
      return faultAt(field, fault, null, textOrNull(rules.ceilingMs));
    case 'shares-sum':
      return faultAt(field, fault, numberText(rules.parts.reduce((sum, { share }) => sum + share, 0) * 100));
    case 'heat-later':
      return faultAt(field, fault, null, textOrNull(rules[name as keyof HeatLimits]));
    case 'place-twice': {
      const place = rules.parts[Number(field.split('.')[1])]?.place;
      return faultAt(field, fault, String(rules.parts.findIndex((one) => one.place === place) + 1));
    }
    case 'ceiling-missing':
    case 'parts-count':
    case 'step-twice':
    case 'strip-limit-missing':
      return faultAt(field, fault);
    default:
      return fault satisfies never;
  }
}

/** What contradicts itself in figures that could all be read: core's check, each with the figure to name. */
export function contradictions(rules: Rules): FieldFault[] {
  const found = checkRules(rules).map((fault) => ofCore(fault, rules));
  // Without a part there are no shares to speak of.
  return rules.parts.length === 0 ? found.filter(({ fault }) => fault !== 'shares-sum') : found;
}

import { ownCeilingUnheeded } from '../../../core/exposure/limits.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import type { Words } from '../words/words.ts';
import { noCeiling } from './hair-window.ts';

function onHair(visit: VisitFacts): boolean {
  return visit.stage === 'apply' || visit.stage === 'process';
}

/** What is wanted of the heat; null where nothing is (E10). */
export function heatWanted(visit: VisitFacts, w: Words): string | null {
  const pass = currentPass(visit);
  const rules = pass?.rules ?? null;
  if (pass === null || rules === null || !onHair(visit)) return null;
  if (rules.heat === 'required' && pass.heat?.on !== true) {
    return pass.heat === null ? w.chair.heat.required : w.chair.heat.requiredOff;
  }
  return rules.heat === 'allowed' && rules.underHeat !== null && pass.heat === null ? w.chair.heat.unsaid : null;
}

/** What is particular about this head, beside its clock times (E9, E10). */
export function headNotes(visit: VisitFacts, w: Words): readonly string[] {
  const pass = currentPass(visit);
  if (pass === null || !onHair(visit)) return [];
  const { limits, heat } = pass;
  const notes = [
    limits === null ? null : limits.raised ? w.chair.raised : w.chair.lowered,
    heat?.on === true ? w.chair.heat.isOn : null,
    noCeiling(pass) ? w.chair.noCeiling : null,
    ownCeilingUnheeded(pass) ? w.chair.ownCeilingUnheeded : null,
  ];
  return notes.filter((one) => one !== null);
}

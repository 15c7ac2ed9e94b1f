import { earliest, type Ms } from '../time.ts';
import type { Pass } from '../visit/visit.ts';

/** The limits that hold for a head now. */
export interface Limits {
  readonly minAfterMs: Ms;
  readonly maxAfterMs: Ms;
  readonly ceilingMs: Ms | null;
}

/**
 * The limits of a pass (E9, E10): those of its rules, or the directions' own figures under heat once heat was on. Heat that
 * was allowed and never spoken of counts as heat. Null when nothing is known of the product.
 */
export function limitsOf(pass: Pass): Limits | null {
  const { rules } = pass;
  if (rules === null) return null;
  const warm = pass.heated || pass.heat === null ? rules.underHeat : null;
  return rules.heat === 'allowed' && warm !== null ? warm : rules;
}

/** Whether a part's own ceiling goes unheeded: with no part marked the head counts as one part, under its own (E5). */
export function ownCeilingUnheeded(pass: Pass): boolean {
  const head = limitsOf(pass)?.ceilingMs ?? null;
  const earlier = (own: Ms | null): boolean => own !== null && (head === null || own < head);
  return pass.parts.length === 0 && (pass.rules?.parts ?? []).some((part) => earlier(part.ceilingMs));
}

/** A part's ceiling: its own or the head's, whichever is earlier (E3). */
export function ceilingOfPart(pass: Pass, part: number): Ms | null {
  return earliest(pass.rules?.parts[part]?.ceilingMs ?? null, limitsOf(pass)?.ceilingMs ?? null);
}

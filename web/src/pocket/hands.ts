import { handsAtWork, MOST_HANDS } from '../../../core/exposure/parts.ts';
import type { PersonId, PlaceNumber } from '../../../core/ids.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';

/** What whoever holds a phone has to do with the application of a head (P0). */
export type MyHands =
  /** Whoever began stays; a helper may go; more hands do not fit. */
  | { readonly kind: 'began' | 'helper' | 'free' | 'full' }
  /** Their hands are at another head. */
  | { readonly kind: 'elsewhere'; readonly chair: PlaceNumber };

/** Null where nothing is being applied, or nobody holds the phone. */
export function myHands(person: PersonId | null, visit: VisitFacts, floor: readonly VisitFacts[]): MyHands | null {
  if (person === null || visit.stage !== 'apply') return null;
  if (isAt(person, visit)) return { kind: currentPass(visit)?.hands[0]?.by === person ? 'began' : 'helper' };
  const other = floor.find((one) => one.id !== visit.id && one.stage === 'apply' && isAt(person, one));
  if (other !== undefined) return { kind: 'elsewhere', chair: other.chair };
  const pass = currentPass(visit);
  return { kind: pass !== null && handsAtWork(pass).length >= MOST_HANDS ? 'full' : 'free' };
}

function isAt(person: PersonId, visit: VisitFacts): boolean {
  const pass = currentPass(visit);
  return pass !== null && handsAtWork(pass).some((one) => one.by === person);
}

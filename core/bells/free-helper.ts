import { handsAtWork } from '../exposure/parts.ts';
import type { Floor } from '../floor.ts';
import type { PersonId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import { currentPass, stageBegan, type VisitFacts } from '../visit/visit.ts';
import { hasRole, isHere } from './circles.ts';

interface Touch {
  readonly at: EpochMs;
  readonly visit: VisitFacts;
}

/** The last thing that each person did at any head. */
function lastTouches(floor: Floor): ReadonlyMap<PersonId, Touch> {
  const touches = new Map<PersonId, Touch>();
  for (const { facts, history } of Object.values(floor.visits)) {
    for (const { by, at } of history) {
      const before = by === null ? undefined : touches.get(by);
      if (by !== null && (before === undefined || at >= before.at)) touches.set(by, { at, visit: facts });
    }
  }
  return touches;
}

/** Hands in product or under water: at a head in apply, or at a basin, by the last touch. */
function handsFull(person: PersonId, touch: Touch | undefined, floor: Floor): boolean {
  const applying = Object.values(floor.visits).some(({ facts }) => {
    const pass = facts.stage === 'apply' ? currentPass(facts) : null;
    return pass !== null && handsAtWork(pass).some((one) => one.by === person);
  });
  if (applying || touch === undefined) return applying;
  const { visit, at } = touch;
  // Whoever touched it before somebody else took it to the water is not at the basin; who helped and went is free.
  const left = currentPass(visit)?.hands.some((one) => one.by === person && one.untilAt !== null) ?? false;
  if (visit.stage === 'apply') return !left;
  return ['rinse', 'neutralize', 'condition'].includes(visit.stage) && at >= stageBegan(visit);
}

/**
 * The one helper whom a bell of this head asks besides its stylist: on shift, here and with free hands; assistants first, then
 * whoever touched a head longest ago. With nobody free, whoever's last touch is oldest.
 */
export function freeHelper(floor: Floor, head: VisitFacts, now: EpochMs): PersonId | null {
  const touches = lastTouches(floor);
  const own = [head.stylist, head.offered?.to ?? null];
  const some = Object.values(floor.people).filter(
    (one) => isHere(one, now) && hasRole(one, ['stylist', 'assistant', 'senior']) && !own.includes(one.id),
  );
  const free = some.filter((one) => !handsFull(one.id, touches.get(one.id), floor));
  const lastAt = (id: PersonId): EpochMs => touches.get(id)?.at ?? Number.NEGATIVE_INFINITY;
  const [first] = (free.length > 0 ? free : some).sort((a, b) => {
    const assistants = Number(hasRole(b, ['assistant'])) - Number(hasRole(a, ['assistant']));
    if (free.length > 0 && assistants !== 0) return assistants;
    if (lastAt(a.id) !== lastAt(b.id)) return lastAt(a.id) - lastAt(b.id);
    return a.id < b.id ? -1 : 1;
  });
  return first?.id ?? null;
}

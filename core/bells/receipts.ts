import type { Draft } from '../events.ts';
import type { Floor } from '../floor.ts';
import type { PersonId, PlaceNumber, VisitId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import type { BellCause } from './bell.ts';
import { audienceOf } from './circles.ts';
import type { BellLevel } from './level.ts';
import { draftAt } from './step.ts';
import { rungAt } from './subject.ts';

/** The bell that a device means; both null: one of the floor. */
export interface BellMeant {
  readonly visit: VisitId | null;
  readonly chair: PlaceNumber | null;
  readonly cause: BellCause;
  readonly episode: number;
  readonly level: BellLevel;
}

/** A device confirms that it has shown a bell to whoever holds it (R7). */
export interface Receipt {
  readonly person: PersonId;
  readonly bell: BellMeant;
}

/**
 * What is recorded of receipts: each once. One for a bell that is gone, of an earlier episode or a lesser level, of somebody who is
 * not asked, or that came before, says nothing: receipts may be late, out of order or repeated.
 */
export function shownDrafts(floor: Floor, receipts: readonly Receipt[], now: EpochMs): Draft[] {
  const told = new Set<string>();
  return receipts.flatMap(({ person, bell: meant }) => {
    const { visit, chair, cause, episode, level } = meant;
    const rung = rungAt(floor, visit, chair);
    const bell = rung?.ringing.bells.find((one) => one.cause === cause);
    if (rung === null || bell === undefined || bell.episode !== episode || bell.level !== level) return [];
    const key = JSON.stringify([visit, chair, cause, person]);
    if (told.has(key) || bell.shown.some((one) => one.person === person)) return [];
    if (level === 'NOTICE' || !audienceOf(bell, rung.owner, floor.people, now).includes(person)) return [];
    told.add(key);
    return [draftAt(visit ?? chair ?? 'floor', { type: 'BellShown', cause, episode, level, person }, now)];
  });
}

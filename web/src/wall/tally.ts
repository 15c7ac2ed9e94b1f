import type { Bell, BellKind } from '../../../core/bells/bell.ts';
import { bellLevels, rankOf } from '../../../core/bells/level.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import type { PlaceNumber } from '../../../core/ids.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { ChairOnFloor, StandingBell } from '../state/floor-mirror.svelte.ts';
import { loudest } from './lane-words.ts';

export interface LevelCount {
  readonly level: BellLevel;
  readonly heads: number;
  /** Chairs of these heads, in their order; a bell of the floor has none. */
  readonly chairs: readonly PlaceNumber[];
}

/**
 * How many heads stand at each level, most urgent first: a head counts once, at its most urgent bell, so that the
 * tally agrees with the blocks in the lanes. Help that a chair asks for is the head's that sits there; at a free chair, and each
 * bell of the floor, counts by itself.
 */
export function tally(bells: readonly StandingBell[]): readonly LevelCount[] {
  const visits = new Map<VisitFacts, Bell>();
  const counts = new Map<BellLevel, (PlaceNumber | null)[]>();
  const count = (level: BellLevel, chair: PlaceNumber | null): unknown =>
    counts.set(level, [...(counts.get(level) ?? []), chair]);
  const add = (visit: VisitFacts, bell: Bell): unknown =>
    visits.set(visit, loudest([bell, ...(visits.has(visit) ? [visits.get(visit) as Bell] : [])]) as Bell);
  for (const { bell, visit } of bells) if (visit !== null) add(visit, bell);
  const sitting = new Map([...visits.keys()].map((visit) => [visit.chair, visit]));
  for (const { bell, visit, chair } of bells) {
    if (visit !== null) continue;
    const head = chair === null ? undefined : sitting.get(chair);
    if (head === undefined) count(bell.level, chair);
    else add(head, bell);
  }
  for (const [visit, bell] of visits) count(bell.level, visit.chair);
  return [...bellLevels].reverse().flatMap((level) => {
    const heads = counts.get(level) ?? [];
    const chairs = heads.filter((chair) => chair !== null).sort((a, b) => a - b);
    return heads.length === 0 ? [] : [{ level, heads: heads.length, chairs }];
  });
}

/** A chair that rings but is not on this wall. */
export interface Elsewhere {
  readonly number: number;
  readonly label: string;
  readonly level: BellLevel;
}

/** Ringing chairs among those not shown, most urgent first. NOTICE rings nobody and is not named. */
export function elsewhere(others: readonly ChairOnFloor[], bells: readonly StandingBell[]): readonly Elsewhere[] {
  return others
    .flatMap(({ number, label, visit }) => {
      const own = bells.filter((one) => one.visit === null && one.chair === number).map(({ bell }) => bell);
      const bell = loudest([...(visit?.bells ?? []), ...own]);
      return bell === null || bell.level === 'NOTICE' ? [] : [{ number, label, level: bell.level }];
    })
    .sort((a, b) => rankOf(b.level) - rankOf(a.level) || a.number - b.number);
}

/** Kinds of the floor's own bells that stand, most urgent first. */
export function floorKinds(bells: readonly StandingBell[]): readonly BellKind[] {
  return bells
    .filter(({ visit, chair }) => visit === null && chair === null)
    .sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level))
    .map(({ bell }) => bell.kind);
}

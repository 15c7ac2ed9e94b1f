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
 * tally agrees with the blocks in the lanes. Each bell of the floor counts by itself.
 */
export function tally(bells: readonly StandingBell[]): readonly LevelCount[] {
  const visits = new Map<VisitFacts, Bell>();
  const counts = new Map<BellLevel, (PlaceNumber | null)[]>();
  const count = (level: BellLevel, chair: PlaceNumber | null): unknown =>
    counts.set(level, [...(counts.get(level) ?? []), chair]);
  for (const { bell, visit } of bells) {
    if (visit === null) count(bell.level, null);
    else visits.set(visit, loudest([bell, ...(visits.has(visit) ? [visits.get(visit) as Bell] : [])]) as Bell);
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
export function elsewhere(others: readonly ChairOnFloor[]): readonly Elsewhere[] {
  return others
    .flatMap(({ number, label, visit }) => {
      const bell = loudest(visit?.bells ?? []);
      return bell === null || bell.level === 'NOTICE' ? [] : [{ number, label, level: bell.level }];
    })
    .sort((a, b) => rankOf(b.level) - rankOf(a.level) || a.number - b.number);
}

/** Kinds of the floor's own bells that stand, most urgent first. */
export function floorKinds(bells: readonly StandingBell[]): readonly BellKind[] {
  return bells
    .filter(({ visit }) => visit === null)
    .sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level))
    .map(({ bell }) => bell.kind);
}

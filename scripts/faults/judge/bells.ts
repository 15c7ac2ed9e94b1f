import { bellKinds, type BellKind } from '../../../core/bells/bell.ts';
import { bellsDue } from '../../../core/bells/due.ts';
import { rankOf, type BellLevel } from '../../../core/bells/level.ts';
import { evolve, forget } from '../../../core/evolve.ts';
import type { Recorded } from '../../../core/events.ts';
import { emptyFloor, type Floor } from '../../../core/floor.ts';
import type { EpochMs } from '../../../core/time.ts';

interface Standing {
  readonly episode: number;
  readonly kind: BellKind;
  readonly level: BellLevel;
}

/** Bells of a log that rang twice, or out of turn. Told by the events alone: no rule is asked. */
export function doubledBellsOf(log: readonly Recorded[]): string[] {
  const faults: string[] = [];
  const standing = new Map<string, Standing>();
  const episodes = new Map<string, number>();
  const rung = new Set<string>();
  for (const { seq, stream, event } of log) {
    const chair = 'chair' in event ? `/${event.chair ?? ''}` : '';
    if (event.type === 'BellRung' || event.type === 'FloorBellRung') {
      const bell = `${stream}${chair} ${event.cause}`;
      const name = `${bell} #${event.episode} ${event.kind} ${event.level}`;
      const before = standing.get(bell);
      if (rung.has(name)) faults.push(`${name} rang again at ${seq}`);
      else if (before === undefined && event.episode !== (episodes.get(bell) ?? 0) + 1) {
        faults.push(`${name} at ${seq} is no new episode`);
      } else if (before !== undefined && !replaces(event, before)) {
        faults.push(`${name} rang at ${seq} while ${before.kind} ${before.level} #${before.episode} stood`);
      }
      rung.add(name);
      episodes.set(bell, event.episode);
      standing.set(bell, event);
    }
    if (event.type === 'BellEnded' || event.type === 'FloorBellEnded') {
      const bell = `${stream}${chair} ${event.cause}`;
      if (standing.get(bell)?.episode !== event.episode) {
        faults.push(`${bell} #${event.episode} ended at ${seq} without standing`);
      }
      standing.delete(bell);
    }
  }
  return faults;
}

function replaces(next: Standing, before: Standing): boolean {
  if (next.episode !== before.episode) return false;
  const higher = rankOf(next.level) - rankOf(before.level);
  return higher > 0 || (higher === 0 && bellKinds.indexOf(next.kind) > bellKinds.indexOf(before.kind));
}

/**
 * Bells that a log is missing: it is folded anew, and at the end of each turn, and at each instant of `turns` (ascending) at which
 * the server is known to have looked, the rules must have nothing to ring or to end that was not rung or ended.
 */
export function missedBellsOf(log: readonly Recorded[], turns: readonly EpochMs[]): string[] {
  const missed: string[] = [];
  let floor: Floor = emptyFloor;
  let seq = 0;
  let turn = 0;
  const look = (at: EpochMs): void => {
    for (const step of bellsDue(floor, at, null)) {
      // It follows from devices, of which a log knows nothing.
      if (step.cause === 'nobody-reached') continue;
      missed.push(`at ${at}, after place ${seq}: ${step.do} ${step.subject} ${step.cause} #${step.episode}`);
    }
    floor = forget(floor, at);
  };
  const lookBefore = (next: EpochMs): void => {
    for (; (turns[turn] ?? Infinity) < next; turn++) look(turns[turn] as EpochMs);
  };
  log.forEach((recorded, i) => {
    lookBefore(recorded.recordedAt);
    floor = evolve(floor, recorded);
    seq = recorded.seq;
    const next = log[i + 1];
    if (next !== undefined && next.recordedAt !== recorded.recordedAt) look(recorded.recordedAt);
  });
  lookBefore(Infinity);
  return missed;
}

/** How many bells a log rang. */
export function rungIn(log: readonly Recorded[]): number {
  return log.filter(({ event }) => event.type === 'BellRung' || event.type === 'FloorBellRung').length;
}

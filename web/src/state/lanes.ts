import type { Command } from '../../../core/command.ts';
import type { CommandId, PlaceNumber, VisitId } from '../../../core/ids.ts';
import type { Touch } from './touch.ts';

/** Water on and burns: nothing stands between a client and the water (S2, S6). */
export function isUrgent(command: Command): boolean {
  return command.type === 'BeginRinse' || command.type === 'ReportBurns';
}

export function visitNamed(command: Command): VisitId | null {
  return 'visit' in command ? command.visit : null;
}

/** The chair that a command names itself; MoveTo names where to. */
export function chairNamed(command: Command): PlaceNumber | null {
  const creates = command.type === 'SeatVisit' || isUrgent(command) || command.type === 'BeginApplication';
  return creates && 'chair' in command ? command.chair : null;
}

/**
 * The lane of a touch: what must reach the server in the order it was touched. A visit is one lane. What creates a visit
 * begins a lane under its own id, which the visit will carry (S8), unless something at the same chair is still waiting: the
 * client before is finished first. Everything else goes by itself.
 */
export function laneOf(command: Command, id: CommandId, chair: PlaceNumber | null, waiting: readonly Touch[]): string {
  const visit = visitNamed(command);
  if (visit !== null) return waiting.find((one) => one.id === visit)?.lane ?? visit;
  if (chair === null) return id;
  const there = waiting.filter((one) => one.chair === chair);
  return there[there.length - 1]?.lane ?? id;
}

/**
 * What may go now, of touches in order: the first of each lane, for its next goes only after it has an outcome. The first water
 * or burns of a lane pass what the server has answered that it cannot take, as on a full disk, for those it takes all the same.
 */
export function mayGo(waiting: readonly Touch[], answeredAgain: ReadonlySet<string>): readonly Touch[] {
  const closed = new Set<string>();
  const passing = new Set<string>();
  const go: Touch[] = [];
  for (const touch of waiting) {
    const { id, lane, command } = touch;
    const first = !closed.has(lane);
    if (first || (isUrgent(command) && passing.has(lane))) go.push(touch);
    if (first) passing.add(lane);
    closed.add(lane);
    if (isUrgent(command) || !answeredAgain.has(id)) passing.delete(lane);
  }
  return [...go.filter((one) => isUrgent(one.command)), ...go.filter((one) => !isUrgent(one.command))];
}

/** Lanes in which water or burns wait: neither link nor lease is waited for there. */
export function lanesPressed(waiting: readonly Touch[]): ReadonlySet<string> {
  return new Set(waiting.filter(({ command }) => isUrgent(command)).map(({ lane }) => lane));
}

/** Lanes that do not get through: behind one that failed, or that cannot be sent, nothing of its head goes. */
export function lanesStuck(
  waiting: readonly Touch[],
  linked: boolean,
  underWay: readonly string[],
): ReadonlySet<string> {
  const stuck = waiting.filter(({ id, tries }) => tries > 0 || !(linked || underWay.includes(id)));
  return new Set(stuck.map(({ lane }) => lane));
}

import type { CommandId, DeviceId, PersonId } from './ids.ts';
import type { SalonCommand } from './salon/commands.ts';
import type { EpochMs } from './time.ts';
import type { VisitCommand } from './visit/commands/command.ts';

export type Command = SalonCommand | VisitCommand;
export type CommandType = Command['type'];
export type CommandOf<T extends CommandType> = Extract<Command, { type: T }>;

/** Who says it, and what they knew. */
export interface Sender {
  /** Made by the sender; the same id is never done twice (S8). */
  readonly id: CommandId;
  readonly by: PersonId | null;
  readonly device: DeviceId | null;
  /** Version of the visit that the sender saw (S7); null when it saw none. */
  readonly seen: number | null;
  /** When it happened, if not now: later than it was said, by a device that had been away or by "since −2" (X3, X4). */
  readonly happenedAt: EpochMs | null;
}

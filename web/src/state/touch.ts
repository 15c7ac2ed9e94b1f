import type { Command } from '../../../core/command.ts';
import type { CommandId, DeviceId, PersonId, PlaceNumber } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { statedCommands } from '../../../core/visit/events.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { CommandRequest, WireAnswer } from '../../../shared/wire.ts';
import type { Stored } from './device-store.ts';

/** Version of a stored touch. Raise it only with a shape that {@link readTouch} could not read any more. */
export const TOUCH_SHAPE = 1;

/** How a touch stands. Which page is sending it at the moment is not kept: that dies with the page. */
export const touchStates = ['waiting', 'done', 'kept-unsaved', 'refused', 'statement'] as const;
export type TouchState = (typeof touchStates)[number];

/** What somebody touched on this device, from the touch until its outcome has been read. */
export interface Touch {
  readonly shape: number;
  /** Order of touching on this device. */
  readonly n: number;
  /** The command's id: the same at each sending (S8). */
  readonly id: CommandId;
  readonly command: Command;
  readonly by: PersonId | null;
  readonly device: DeviceId | null;
  /** Version of the visit that the screen had last heard (S7). */
  readonly seen: number | null;
  /** A touch of this device whose effect the screen showed already: once it is done, its version counts as seen. */
  readonly over: CommandId | null;
  /** When it happened, if the person said so ("since −2"). */
  readonly happenedAt: EpochMs | null;
  /** The server's now at the touch as this device knew it, whole ms, and the timescale it knew; null: it knew none. */
  readonly touchedAt: EpochMs;
  readonly timescale: string | null;
  /** The device's own wall clock at the touch: all there is while no timescale is known. */
  readonly touchedWall: number;
  /** An earlier touch at this head, sent without its time, was recorded up to here: this one did not come before it. */
  readonly notBefore: EpochMs | null;
  /** When the salon was set up whose floor the screen showed: names the salon; null while that was not known. */
  readonly salon: EpochMs | null;
  readonly protocol: number;
  readonly lane: string;
  /** The chair concerned; null for what is about no head. */
  readonly chair: PlaceNumber | null;
  /** How often it was sent in vain. */
  readonly tries: number;
  readonly state: TouchState;
  readonly answer: WireAnswer | null;
  readonly problem: Problem | null;
  /** The device's wall clock when its outcome came. */
  readonly settledWall: number | null;
}

/** What a touch of an older version may lack, with what it then means. */
const lifted = {
  n: 0,
  by: null,
  device: null,
  seen: null,
  over: null,
  happenedAt: null,
  timescale: null,
  notBefore: null,
  salon: null,
  protocol: 1,
  chair: null,
  tries: 0,
  answer: null,
  problem: null,
  settledWall: null,
} as const;

type Loose = Partial<Record<keyof Touch, unknown>>;

/**
 * A stored touch, lifted to this version's shape; null where it cannot be understood. It is then kept and shown as it is:
 * what somebody touched is never dropped because a program was renewed.
 */
export function readTouch({ id, value }: Stored): Touch | null {
  if (typeof value !== 'object' || value === null) return null;
  const one = value as Loose;
  const command = one.command as { type?: unknown } | null | undefined;
  if (typeof one.shape === 'number' && one.shape > TOUCH_SHAPE) return null;
  if (one.id !== id || typeof command?.type !== 'string' || !isInstant(one.touchedAt)) return null;
  const state = touchStates.find((known) => known === one.state) ?? 'waiting';
  const unsound =
    !(['n', 'tries', 'protocol'] as const).every((key) => one[key] === undefined || Number.isFinite(one[key])) ||
    !(['seen', 'happenedAt', 'notBefore', 'salon'] as const).every((key) => isInstantOrNone(one[key])) ||
    (state === 'refused' && typeof one.problem !== 'object');
  if (unsound) return null;
  const touchedWall = isInstant(one.touchedWall) ? one.touchedWall : one.touchedAt;
  const lane = typeof one.lane === 'string' ? one.lane : id;
  return { ...lifted, ...one, shape: TOUCH_SHAPE, touchedWall, lane, state } as Touch;
}

function isInstant(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

function isInstantOrNone(value: unknown): boolean {
  return value === undefined || value === null || isInstant(value);
}

/** In order of touching; two pages of one device may have counted the same. */
export function inOrder(touches: readonly Touch[]): readonly Touch[] {
  return [...touches].sort((a, b) => a.n - b.n || a.touchedWall - b.touchedWall || (a.id < b.id ? -1 : 1));
}

/** What is known of time when a touch is sent. */
export interface SendingTime {
  /** Server's now as this device knows it. */
  readonly now: EpochMs;
  /** Null: the server's time was never heard. */
  readonly timescale: string | null;
  readonly wallNow: number;
}

/** A timescale that has changed since the touch is believed to have stepped when it is off this device's clock by more, ms. */
const STEPPED_OVER_MS = 2 * 60_000;

/**
 * When it happened, as a later sending names it (X3): the instant of the touch, never in the server's future. A touch made before
 * the server was ever heard, or on a timescale that was set right since (T3), lies as far back as this device's own clock has gone
 * on since.
 */
export function happenedAtOf(touch: Touch, { now, timescale, wallNow }: SendingTime): EpochMs | null {
  const whole = Math.round(now);
  if (touch.happenedAt !== null) return touch.happenedAt;
  if (timescale === null) return null;
  const byDevice = whole - Math.max(0, Math.round(wallNow - touch.touchedWall));
  const stepped = touch.timescale !== timescale && Math.abs(touch.touchedAt - byDevice) > STEPPED_OVER_MS;
  if (touch.timescale === null || stepped) return byDevice;
  return Math.min(whole, Math.max(touch.touchedAt, touch.notBefore ?? touch.touchedAt));
}

export function requestOf(touch: Touch, happenedAt: EpochMs | null): CommandRequest {
  const { command, id, by, device, seen } = touch;
  return { ...command, id, by, device, seen, happenedAt };
}

/** Whether the rules keep it as a statement when it comes too late (X3). */
export function canBeStatement(command: Command): boolean {
  return (statedCommands as readonly string[]).includes(command.type);
}

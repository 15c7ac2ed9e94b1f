import type { BellLevel } from '../core/bells/level.ts';
import type { BellMeant } from '../core/bells/receipts.ts';
import type { DeviceId, PersonId } from '../core/ids.ts';
import type { EpochMs } from '../core/time.ts';
import type { Problem } from './problem.ts';
import type { StreamName } from './protocol.ts';
import type { ClockStamps, Heartbeat, Push, ReachTold } from './wire.ts';

/** The streams a screen wants from now on; those it does not name it leaves. */
export interface JoinRequest {
  readonly streams: readonly StreamName[];
  readonly protocol: number;
}

/** Each snapshot is the JSON text of a `Snapshot`: its entities are encoded once per revision for everybody. */
export type JoinAnswer =
  | { readonly outcome: 'joined'; readonly snapshots: readonly string[] }
  | { readonly outcome: 'refused'; readonly problem: Problem };

/** A sound test takes the path of a real bell: the server sends it, the screen plays what it was sent. */
export interface TestBell {
  readonly level: BellLevel;
}

/** A screen kept counting on a timescale that the server has lost: so late is it there (T3). */
export interface KeptTime {
  readonly device: DeviceId;
  readonly timescale: string;
  readonly now: EpochMs;
}

export const screenKinds = ['wall', 'chair', 'pocket'] as const;
export const soundKinds = ['locked', 'on', 'broken', 'absent'] as const;

/** What a screen says of itself, at each change and every few seconds: nothing older is believed (R7). */
export interface Here {
  readonly device: DeviceId;
  readonly screen: (typeof screenKinds)[number];
  /** Who holds it. */
  readonly person: PersonId | null;
  readonly sound: (typeof soundKinds)[number];
  /** Whoever holds it said that they heard the last test. */
  readonly heard: boolean;
  /** The page is before somebody's eyes: neither hidden nor behind another. */
  readonly seen: boolean;
  readonly mutedUntil: EpochMs | null;
}

/** Bells that a device now shows to whoever holds it (R7). */
export interface ShownBells {
  readonly device: DeviceId;
  readonly person: PersonId;
  readonly bells: readonly BellMeant[];
}

/** From server to screen. */
export interface ServerToClient {
  push: (push: Push) => void;
  heartbeat: (heartbeat: Heartbeat) => void;
  'ring-test': (bell: TestBell) => void;
  /** Who can be reached now; to each screen as it joins, and at each change. */
  reach: (reach: ReachTold) => void;
  problem: (problem: Problem) => void;
}

/** From screen to server. Acts go by HTTP, never by socket. */
export interface ClientToServer {
  join: (request: JoinRequest, answer: (answer: JoinAnswer) => void) => void;
  clock: (answer: (stamps: ClockStamps) => void) => void;
  'kept-time': (kept: KeptTime, answer: (outcome: { readonly outcome: 'heard' }) => void) => void;
  here: (here: Here, answer: (outcome: { readonly outcome: 'heard' }) => void) => void;
  shown: (shown: ShownBells, answer: (outcome: { readonly outcome: 'heard' }) => void) => void;
  'test-bell': (bell: TestBell, answer: (outcome: { readonly outcome: 'rung' }) => void) => void;
}

import type { BellLevel } from '../core/bells/level.ts';
import type { DeviceId } from '../core/ids.ts';
import type { EpochMs } from '../core/time.ts';
import type { Problem } from './problem.ts';
import type { StreamName } from './protocol.ts';
import type { ClockStamps, Heartbeat, Push } from './wire.ts';

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

/** From server to screen. */
export interface ServerToClient {
  push: (push: Push) => void;
  heartbeat: (heartbeat: Heartbeat) => void;
  'ring-test': (bell: TestBell) => void;
  problem: (problem: Problem) => void;
}

/** From screen to server. Acts go by HTTP, never by socket. */
export interface ClientToServer {
  join: (request: JoinRequest, answer: (answer: JoinAnswer) => void) => void;
  clock: (answer: (stamps: ClockStamps) => void) => void;
  'kept-time': (kept: KeptTime, answer: (outcome: { readonly outcome: 'heard' }) => void) => void;
  'test-bell': (bell: TestBell, answer: (outcome: { readonly outcome: 'rung' }) => void) => void;
}

import type { BellCause, BellKind, Circle } from '../core/bells/bell.ts';
import type { BellLevel } from '../core/bells/level.ts';
import type { PlaceNumber } from '../core/ids.ts';
import type { EpochMs, Ms } from '../core/time.ts';

/** Steps of a bell as lights and buzzers hear them; `standing` says only what stands, `test` only that it is one. */
export type HookStep = 'rung' | 'widened' | 'taken' | 'passed' | 'not_reached' | 'ended' | 'standing' | 'test';

/** How many bells stand at each level. */
export type LevelCounts = Readonly<Record<BellLevel, number>>;

/** What leaves the house: codes, numbers and instants in RFC 3339 (UTC). No names, no ids of people or visits. */
export interface HookDocument {
  readonly type: `bell.${HookStep}`;
  /** When it happened. */
  readonly timestamp: string;
  readonly data: {
    readonly step: HookStep;
    /** The reason as the log keeps it; null where the step says it all. */
    readonly why: string | null;
    readonly kind: BellKind | null;
    readonly level: BellLevel | null;
    readonly cause: BellCause | null;
    /** Grows each time the cause comes to stand anew at that subject. */
    readonly episode: number | null;
    /** How far it is carried: those whose deed it is, everyone on shift, also managers. */
    readonly circle: Circle | null;
    readonly subject: {
      readonly of: 'chair' | 'floor';
      readonly chair: PlaceNumber | null;
      readonly label: string | null;
    };
    readonly dueAt: string | null;
    readonly rungAt: string | null;
  };
  /** Bells on the whole floor after this step, and those of them that nobody has taken. */
  readonly standing: LevelCounts;
  readonly untaken: LevelCounts;
}

/** Why a step did not arrive. `answered`: with another status than 2xx. */
export type HookFault =
  | 'timeout'
  | 'refused'
  | 'no-name'
  | 'unreachable'
  | 'tls'
  | 'broken'
  | 'redirect'
  | 'answered'
  | 'own-address'
  | 'no-device';

/** How it stands with one hook. Never its secret. Instants on the timescale. */
export interface HookTold {
  readonly id: string;
  readonly name: string;
  readonly url: string;
  readonly on: boolean;
  /** Steps that wait to be delivered. */
  readonly waiting: number;
  /** The last one that arrived since this server started. */
  readonly deliveredAt: EpochMs | null;
  /** Null while the last one arrived. */
  readonly failing: HookFailing | null;
}

export interface HookFailing {
  readonly sinceAt: EpochMs;
  readonly why: HookFault;
  readonly status: number | null;
  /** Steps given up since then. */
  readonly givenUp: number;
}

/** Body of `POST /api/v1/hooks`. */
export interface HookWanted {
  readonly name: string;
  readonly url: string;
}

/** Its answer: the only time that the secret is told. */
export interface HookMade {
  readonly hook: HookTold;
  readonly secret: string;
}

/** Answer of `POST /api/v1/hooks/:id/test`. */
export type HookTested =
  | { readonly outcome: 'delivered'; readonly status: number; readonly afterMs: Ms }
  | { readonly outcome: 'failed'; readonly why: HookFault; readonly status: number | null; readonly afterMs: Ms }
  /** Steps before it are not through yet. */
  | { readonly outcome: 'waiting'; readonly behind: number };

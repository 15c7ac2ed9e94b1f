import type { Command, Sender } from '../core/command.ts';
import type { Recorded } from '../core/events.ts';
import type { VisitEvent } from '../core/visit/events.ts';
import type { FloorBells, Gap } from '../core/floor.ts';
import type { Directions, Service } from '../core/directions/directions.ts';
import type { PersonId, VisitId } from '../core/ids.ts';
import type { Person, Place, Salon } from '../core/salon/salon.ts';
import type { EpochMs, Ms } from '../core/time.ts';
import type { VisitFacts } from '../core/visit/visit.ts';
import type { StreamName } from './protocol.ts';

/** The body of `POST /api/v1/commands`: who says it, what they knew, and the command, in one flat object. */
export type CommandRequest = Command & Sender;

/**
 * What a screen is told of one thing on the floor: its facts, and the words it needs beside them. What follows from
 * the facts every screen computes itself, with the functions of core at its own estimate of now.
 */
export type FloorEntity =
  | { readonly kind: 'salon'; readonly facts: Salon; readonly name: string | null }
  | { readonly kind: 'place'; readonly facts: Place; readonly label: string }
  | { readonly kind: 'person'; readonly facts: Person; readonly name: string }
  | { readonly kind: 'service'; readonly facts: Service; readonly name: string }
  /** `source` is told on the stream `salon` only; null elsewhere. */
  | { readonly kind: 'directions'; readonly facts: Directions; readonly name: string; readonly source: string | null }
  /** `label` is null where nobody gave one, and always on `floor-unlabelled`. */
  | { readonly kind: 'visit'; readonly facts: VisitFacts; readonly label: string | null }
  | { readonly kind: 'floor-bells'; readonly facts: FloorBells }
  | { readonly kind: 'gap'; readonly facts: Gap | null };

export type EntityKind = FloorEntity['kind'];
export type EntityOf<K extends EntityKind> = Extract<FloorEntity, { kind: K }>;

/** `salon`, `floor-bells` and `gap` exist once; the others are `place/4`, `visit/ID` and so on. */
export type EntityKey =
  'salon' | 'floor-bells' | 'gap' | `${'place' | 'person' | 'service' | 'directions' | 'visit'}/${string}`;

/** The server's time, as it is when this is sent. */
export interface ServerTime {
  /** Names the timescale; samples taken on another one are dropped (T5). */
  readonly timescale: string;
  /** The timescale's instant. */
  readonly now: EpochMs;
  /** What people are shown is timescale + this; may be negative (T2). */
  readonly civilOffsetMs: number;
}

/** A whole stream. Revisions count on over restarts; `run` names one run of the server. */
export interface Snapshot extends ServerTime {
  readonly stream: StreamName;
  readonly run: string;
  readonly protocol: number;
  readonly revision: number;
  readonly entities: Readonly<Record<string, FloorEntity>>;
}

/**
 * What changed: whole entities, null for one that is gone. Every stream gets every revision, so `previous` is the
 * revision a screen must have; if it has another, it joins again and takes the snapshot.
 */
export interface Push {
  readonly stream: StreamName;
  readonly previous: number;
  readonly revision: number;
  readonly entities: Readonly<Record<string, FloorEntity | null>>;
}

/** Why the log cannot be written. */
export type StorageTrouble = 'full' | 'failing' | 'readonly' | 'corrupt' | 'busy';

/** Why there is no backup, or none since the last one. `unverified`: it was made and did not pass its check. */
export type BackupTrouble = 'none-yet' | 'folder' | 'full' | 'failing' | 'unverified';

/** How it stands with what is stored. Instants on the timescale. */
export interface StorageFacts {
  readonly trouble: StorageTrouble | null;
  /** The data file was found damaged: it is written no more until a backup is restored and the server started again. */
  readonly damageFoundAt: EpochMs | null;
  /** The newest backup that passed its check. */
  readonly backupAt: EpochMs | null;
  readonly backupTrouble: BackupTrouble | null;
}

export interface Heartbeat extends ServerTime {
  readonly run: string;
  readonly revision: number;
  /** Something is kept in memory only, because it could not be stored. */
  readonly unsaved: boolean;
  readonly storage: StorageFacts;
  /** While the time is uncertain (T3): how long we may have been away, by a clock that one might believe; a proposal. Else null. */
  readonly awayMs: Ms | null;
}

/** How somebody can be reached now: their device sounds, only shows, only a push would come, or not at all. */
export const reachKinds = ['rings', 'shown', 'push', 'no'] as const;
export type ReachKind = (typeof reachKinds)[number];

/** One person on shift, or whose device is there; by what their devices confirmed, never by what was sent (R7). */
export interface PersonReach {
  readonly person: PersonId;
  readonly how: ReachKind;
  readonly sinceAt: EpochMs;
  readonly mutedUntil: EpochMs | null;
}

/** Who can be reached, and how it stands with the walls. Not part of the log: it is as it is now. */
export interface ReachTold {
  readonly people: readonly PersonReach[];
  /** Walls that are linked and sound, and that are linked and cannot. */
  readonly walls: { readonly sounding: number; readonly silent: number };
}

/** The two stamps of the server's in one exchange of RFC 5905 §8: t2 and t3. */
export interface ClockStamps {
  readonly timescale: string;
  readonly receivedAt: EpochMs;
  readonly sentAt: EpochMs;
}

/** The answer to an accepted command: never state, which comes by push. */
export interface WireAnswer {
  /** `kept-unsaved`: done, but the disk could not take it yet; it stands as not saved until it could. */
  readonly outcome: 'done' | 'kept-unsaved';
  readonly visit: VisitId | null;
  /** The visit's version after it. */
  readonly version: number | null;
  readonly revision: number;
}

/** An event of a visit with its place in the log. */
export type RecordedOfVisit = Recorded & { readonly stream: `visit/${VisitId}`; readonly event: VisitEvent };

/** Answer of `GET /api/v1/visits/:id`. */
export interface VisitRecord {
  readonly facts: VisitFacts;
  /** Words about this visit under the keys they are kept by: its label and notes. */
  readonly words: Readonly<Record<string, string>>;
  /** All that happened, corrections and steps of bells included, oldest first. */
  readonly events: readonly RecordedOfVisit[];
}

/** Answer of `POST /api/v1/hand-clock/turn`, which exists only under a hand-driven clock. */
export interface HandTurn {
  readonly now: EpochMs;
  readonly revision: number;
}

/** Answer of `GET /readyz`. */
export interface Readiness {
  readonly ready: boolean;
  readonly storage: StorageFacts;
}

/** Answer of `GET /api/v1/backups`: where backups go; null where none are made, as for the model day. */
export interface BackupsTold {
  readonly folder: string;
  /** Whether it lies on the disk of the data, so that one broken disk takes both. */
  readonly sameDisk: boolean;
  /** How many there are. */
  readonly kept: number;
  /** What `npm run restore` wants to hear to find these very folders. */
  readonly flags: string;
}

/** Answer of `GET /api/v1/about`. */
export interface About {
  readonly protocol: number;
  /** Names this run of the server. */
  readonly run: string;
  /** The network is let in: until devices are paired, anyone on it can act. */
  readonly lan: boolean;
  /** Where other devices find this server; empty unless the network is let in. */
  readonly addresses: readonly string[];
  readonly handClock: boolean;
  /** Whether `POST /api/v1/model-day` exists. */
  readonly modelDay: boolean;
}

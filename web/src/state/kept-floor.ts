import type { StreamName } from '../../../shared/protocol.ts';
import { PROTOCOL } from '../../../shared/protocol.ts';
import type { DeviceStore, Heard } from './device-store.ts';
import type { FloorMirror } from './floor-mirror.svelte.ts';
import type { Link } from './link.svelte.ts';
import type { ServerClock } from './server-clock.ts';

/** What was heard is written down at most so often, ms. */
const KEPT_EVERY_MS = 5_000;
/** A floor heard longer ago is nobody's any more, and its clients' labels are not ours to keep. */
const FORGOTTEN_AFTER_MS = 12 * 3_600_000;

interface Deps {
  readonly stream: StreamName;
  readonly store: Promise<DeviceStore>;
  readonly mirror: FloorMirror;
  readonly clock: ServerClock;
  readonly link: Link;
  readonly wallNow: () => number;
  readonly changed: () => void;
}

/**
 * The floor as this device heard it last, kept beside its touches: a page that is opened where the server cannot be reached goes on
 * from there, every number marked, by the device's own clock (T5).
 */
export class KeptFloor {
  readonly #deps: Deps;
  /** The timescale of what was kept and is shown: until the server is heard its time is known by it. */
  timescale: string | null = null;
  #store: DeviceStore | null = null;
  #keptAt = Number.NEGATIVE_INFINITY;
  #keptRevision = -1;

  constructor(deps: Deps) {
    this.#deps = deps;
    void this.#open();
  }

  /** Called every second. */
  look(): void {
    const { mirror, link, wallNow } = this.#deps;
    const due = Math.abs(wallNow() - this.#keptAt) >= KEPT_EVERY_MS && mirror.revision !== this.#keptRevision;
    if (due && link.phase === 'linked') this.keepNow();
  }

  /** At once, for the page may be gone in a moment. */
  keepNow(): void {
    const { mirror, clock, link, stream, wallNow } = this.#deps;
    const { run, revision, heard } = mirror;
    const { timescale } = clock;
    if (stream === 'salon' || this.#store === null || link.phase !== 'linked' || run === null || timescale === null)
      return;
    this.#keptAt = wallNow();
    this.#keptRevision = revision;
    const time = { timescale, now: Math.round(clock.now()), civilOffsetMs: link.civilOffsetMs };
    // As it came: what a page holds may be watched, and no store takes that.
    const entities = JSON.parse(JSON.stringify(heard)) as Heard['snapshot']['entities'];
    const snapshot = { ...time, stream, run, revision, protocol: PROTOCOL, entities };
    void this.#store.keepHeard(stream, { snapshot, wallAt: this.#keptAt });
  }

  async #open(): Promise<void> {
    const { store: opening, stream, mirror, clock, link, wallNow } = this.#deps;
    const store = await opening;
    this.#store = store;
    const kept = await store.readHeard(stream);
    if (kept === null) return;
    const { snapshot, wallAt } = kept;
    const ageMs = wallNow() - wallAt;
    if (ageMs < 0 || ageMs > FORGOTTEN_AFTER_MS || snapshot.protocol !== PROTOCOL) return void store.clearHeard(stream);
    // The server was quicker.
    if (mirror.revision >= 0) return;
    clock.bridge(snapshot.now - wallAt);
    this.timescale = snapshot.timescale;
    link.civilOffsetMs = snapshot.civilOffsetMs;
    link.keptAt = snapshot.now;
    mirror.takeKept(snapshot);
    this.#deps.changed();
  }
}

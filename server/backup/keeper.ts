import { mkdirSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { MINUTE, type EpochMs, type Ms } from '../../core/time.ts';
import type { BackupTrouble } from '../../shared/wire.ts';
import type { EngineLog } from '../engine/engine.ts';
import type { BackupState } from '../engine/storage-facts.ts';
import type { Timers } from '../engine/timers.ts';
import { erasuresName, erasuresOf, shareErasures } from '../store/erasures.ts';
import { backupName } from './backup-name.ts';
import type { BackupMade, BackupOrder } from './back-up.ts';
import { backupsIn } from './backups.ts';
import { backupDue } from './when-due.ts';
import { superfluous } from './which-to-keep.ts';

/** How often it is asked whether a backup is due. */
const LOOK_EVERY: Ms = MINUTE;

/** What the keeper sees of the floor. */
export interface FloorSeen {
  /** The time that people read, epoch ms. */
  readonly now: EpochMs;
  readonly revision: number;
  readonly openVisits: boolean;
  readonly zone: string;
  /** A damaged file is not backed up over what is good. */
  readonly damaged: boolean;
}

export interface KeeperDeps {
  readonly data: string;
  readonly folder: string;
  /** The folder is our own choice: made if missing. One that was named and is missing is trouble, not made elsewhere. */
  readonly ownFolder: boolean;
  readonly floor: () => FloorSeen;
  readonly take: (order: BackupOrder) => Promise<BackupMade>;
  /** The salon's civil date. */
  readonly dateOf: (at: EpochMs, zone: string) => string;
  readonly timers: Timers;
  readonly log: EngineLog;
}

/** Makes backups while something changes, keeps them by age, and says how it stands. Never in the way of the floor. */
export class BackupKeeper {
  readonly #deps: KeeperDeps;
  #last: { readonly at: EpochMs; readonly revision: number } | null;
  #trouble: BackupTrouble | null;
  #failedAt: EpochMs | null = null;
  #changedAt: EpochMs;
  #seen: number;
  /** Bytes of the list of erasures when it was last laid beside the backups. */
  #shared = 0;
  #busy: Promise<void> | null = null;
  #stop: () => void = () => undefined;

  constructor(deps: KeeperDeps) {
    this.#deps = deps;
    const { now, revision } = deps.floor();
    this.#last = backupsIn(deps.folder)[0] ?? null;
    this.#trouble = this.#last === null ? 'none-yet' : null;
    this.#changedAt = now;
    this.#seen = revision;
  }

  get state(): BackupState {
    return { madeAt: this.#last?.at ?? null, trouble: this.#trouble };
  }

  begin(): void {
    this.#stop = this.#deps.timers.every(LOOK_EVERY, () => void this.look());
  }

  async end(): Promise<void> {
    this.#stop();
    await this.#busy;
  }

  /** Makes a backup if one is due; resolves when that is done. */
  look(): Promise<void> {
    this.#busy ??= this.#look().finally(() => (this.#busy = null));
    return this.#busy;
  }

  async #look(): Promise<void> {
    const { revision, openVisits, now, zone, damaged } = this.#deps.floor();
    if (revision !== this.#seen) this.#changedAt = now;
    this.#seen = revision;
    const due = backupDue({
      now,
      revision,
      openVisits,
      changedAt: this.#changedAt,
      last: this.#last,
      failedAt: this.#failedAt,
    });
    try {
      if (!damaged && due !== null) await this.#make(now, zone, revision);
      if (this.#last !== null) this.#shareErasures();
    } catch (error) {
      this.#failed(backupTroubleOf(error), now, error);
    }
  }

  async #make(now: EpochMs, zone: string, revision: number): Promise<void> {
    const { folder, ownFolder, take, log } = this.#deps;
    if (ownFolder) mkdirSync(folder, { recursive: true });
    statSync(folder);
    const name = backupName(now, zone, revision);
    const made = await take({ folder, name });
    if (!made.verified) return this.#failed('unverified', now, made.what);
    if (this.#trouble !== null && this.#trouble !== 'none-yet') log.info({ name }, 'backups are made again');
    this.#last = { at: now, revision: made.contents.events };
    this.#trouble = null;
    this.#failedAt = null;
    this.#tidy(now, zone);
  }

  #tidy(now: EpochMs, zone: string): void {
    const { folder, dateOf } = this.#deps;
    const old = superfluous(backupsIn(folder), now, (at) => dateOf(at, zone));
    for (const { name } of old) rmSync(join(folder, name), { force: true });
  }

  /** An older backup still holds what was erased since: the list must survive together with it. */
  #shareErasures(): void {
    const { data, folder } = this.#deps;
    const size = statSync(join(data, erasuresName), { throwIfNoEntry: false })?.size ?? 0;
    if (size === this.#shared) return;
    shareErasures(erasuresOf(data), folder);
    this.#shared = size;
  }

  #failed(trouble: BackupTrouble, now: EpochMs, why: unknown): void {
    if (trouble !== this.#trouble)
      this.#deps.log.warn({ err: why, trouble, folder: this.#deps.folder }, 'no backup could be made');
    this.#trouble = trouble;
    this.#failedAt = now;
  }
}

const troubles: readonly (readonly [RegExp, BackupTrouble])[] = [
  [/^(SQLITE_FULL|ENOSPC|EDQUOT)/, 'full'],
  [/^(SQLITE_CANTOPEN|SQLITE_READONLY|ENOENT|ENOTDIR|EACCES|EPERM|EROFS)/, 'folder'],
];

/** By the code of SQLite or of the system. */
export function backupTroubleOf(error: unknown): BackupTrouble {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return troubles.find(([like]) => like.test(code))?.[1] ?? 'failing';
}

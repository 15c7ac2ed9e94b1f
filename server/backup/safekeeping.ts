import { restoreFlags } from './advice.ts';
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { openVisits } from '../../core/floor.ts';
import type { BackupsTold } from '../../shared/wire.ts';
import type { Engine, EngineLog } from '../engine/engine.ts';
import type { BackupState } from '../engine/storage-facts.ts';
import type { Timers } from '../engine/timers.ts';
import { Reader } from '../reader/reader.ts';
import { dataFileName } from '../store/file-names.ts';
import type { Store } from '../store/store.ts';
import { isZone, TemporalZone } from '../zones/temporal-zone.ts';
import type { BackupMade, BackupOrder } from './back-up.ts';
import { backupsIn, onOneMedium } from './backups.ts';
import { BackupKeeper, type FloorSeen } from './keeper.ts';

export interface SafekeepingDeps {
  readonly engine: Engine;
  readonly store: Store;
  readonly timers: Timers;
  readonly log: EngineLog;
  /** Folder of the data file. */
  readonly data: string;
  readonly backups: BackupPlace;
}

export interface BackupPlace {
  readonly folder: string;
  /** Chosen by us, and so made by us. */
  readonly own: boolean;
}

export function backupPlace(data: string, named: string | null, root: string): BackupPlace {
  return named === null ? { folder: join(data, 'backups'), own: true } : { folder: resolve(root, named), own: false };
}

/** What whoever starts the server should know of the place; empty if it is a good one. */
export function backupHint({ folder, own }: BackupPlace, data: string): string[] {
  if (!own && !existsSync(folder)) {
    return [
      `The backup folder ${folder} is missing: no backup is made until it is there. Plug its disk in, or make it.`,
    ];
  }
  if (!own && !onOneMedium(folder, data)) return [];
  return [`Backups go to ${folder}, on the disk of the data. Another disk is safer: npm start -- --backups DIR`];
}

/** Looks after the file beside the floor: checked once the server listens, backed up while it is worked with. */
export class Safekeeping {
  readonly #deps: SafekeepingDeps;
  readonly #reader: Reader;
  readonly #keeper: BackupKeeper;

  constructor(deps: SafekeepingDeps) {
    const { data, backups, timers, log } = deps;
    this.#deps = deps;
    this.#reader = new Reader(join(data, dataFileName));
    this.#keeper = new BackupKeeper({
      data,
      folder: backups.folder,
      ownFolder: backups.own,
      floor: () => this.#floor(),
      take: (order) => this.#take(order),
      dateOf: (at, zone) => new TemporalZone(zone).dateOf(at),
      timers,
      log,
    });
  }

  get state(): BackupState {
    return this.#keeper.state;
  }

  get told(): BackupsTold {
    const { folder, own } = this.#deps.backups;
    return {
      folder,
      sameDisk: existsSync(folder) ? onOneMedium(folder, this.#deps.data) : own,
      kept: backupsIn(folder).length,
      flags: restoreFlags({ data: this.#deps.data, backups: folder }),
    };
  }

  begin(): void {
    this.#keeper.begin();
    void this.check();
  }

  /** Walks the whole file, and ends all writing if it is damaged. Trouble of the reader itself is no finding. */
  async check(): Promise<void> {
    const { store, engine, log } = this.#deps;
    try {
      const findings = await this.#reader.ask('quick-check', null);
      if (findings.length === 0) return;
      log.error({ findings }, 'the data file is damaged: nothing more is written to it');
      store.declareDamaged(findings.join('; '), 'check');
      engine.probe();
    } catch (error) {
      log.warn({ err: error }, 'the data file could not be checked');
    }
  }

  /** The reader must be gone before the writer closes: the last to close the file makes its checkpoint. */
  async end(): Promise<void> {
    await this.#reader.close();
    await this.#keeper.end();
  }

  #floor(): FloorSeen {
    const { engine, store } = this.#deps;
    const { now, civilOffsetMs, revision } = engine.heartbeat();
    const { zone } = engine.floor.salon;
    return {
      now: now + civilOffsetMs,
      revision,
      openVisits: openVisits(engine.floor).length > 0,
      zone: isZone(zone) ? zone : 'UTC',
      damaged: store.damage !== null,
    };
  }

  async #take(order: BackupOrder): Promise<BackupMade> {
    const made = await this.#reader.ask('back-up', order);
    // A copy holds what the file holds: was it the medium, or is it the file?
    if (!made.verified) await this.check();
    return made;
  }
}

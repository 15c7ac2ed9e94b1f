import { mkdtempSync, renameSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Where the hand begins: noon of an invented day, an hour after the machine booted. */
const BEGIN = { wall: Date.UTC(2026, 2, 10, 12), mono: 5_000, uptime: 3_600_000, bootId: 'boot-1' };

/** A machine's clocks in a file, moved by hand; a server started on it reads them anew at each look, also after a kill. */
export class HandClock {
  readonly file: string;
  #at = { ...BEGIN };
  #boots = 1;
  #passedMs = 0;

  constructor(folder = mkdtempSync(join(tmpdir(), 'basinbell-clock-'))) {
    this.file = join(folder, 'clock.json');
    this.#write();
  }

  /** Time passed by this clock since it began, ms. */
  get passedMs(): number {
    return this.#passedMs;
  }

  get wall(): number {
    return this.#at.wall;
  }

  /** Time goes on for everything. */
  pass(ms: number): void {
    const { wall, mono, uptime, bootId } = this.#at;
    this.#passedMs += ms;
    this.#at = { wall: wall + ms, mono: mono + ms, uptime: uptime + ms, bootId };
    this.#write();
  }

  /** Somebody, or a time server, sets the wall clock; nothing else moves. */
  stepWall(ms: number): void {
    this.#at = { ...this.#at, wall: this.#at.wall + ms };
    this.#write();
  }

  /** The machine sleeps: its process clock stands, everything else goes on. */
  sleep(ms: number): void {
    const { wall, mono, uptime, bootId } = this.#at;
    this.#passedMs += ms;
    this.#at = { wall: wall + ms, mono, uptime: uptime + ms, bootId };
    this.#write();
  }

  /**
   * The machine is off for so long and boots again, with a wall clock that is `wallErrorMs` away from where it would be. Only while
   * no server runs on it.
   */
  reboot(offMs: number, wallErrorMs = 0): void {
    this.#boots += 1;
    this.#passedMs += offMs;
    const wall = this.#at.wall + offMs + wallErrorMs;
    this.#at = { wall, mono: 2_000, uptime: 20_000, bootId: `boot-${this.#boots}` };
    this.#write();
  }

  #write(): void {
    const beside = `${this.file}.new`;
    writeFileSync(beside, JSON.stringify({ at: this.#at }));
    renameSync(beside, this.file);
  }
}

import { beginMute, isMuting, muteLimit, mutes, type Mutable, type Mute } from '../../../core/bells/mute.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import type { Keep } from './keep.ts';

/** Under this name the device keeps its mute, so that a reload neither ends nor lengthens it. */
const KEPT_AS = 'mute';

interface Clocks {
  /** Does not count sleep everywhere; begins anew with each page. */
  readonly performanceNow: () => number;
  readonly wallNow: () => number;
}

/** A mute as kept: besides the floor's time, when it began by this device's own clock. */
interface Kept extends Mute {
  readonly wallAt: number;
}

/**
 * The mute of this device (R4). The floor's time can be moved (T3) and a device's clock set, so three clocks watch it: it is
 * over as soon as any of them says that two minutes have gone, or went backwards.
 */
export class MuteSwitch {
  /** What holds now; null when nothing is muted. `untilAt` is what device and wall show. */
  current = $state.raw<Mute | null>(null);
  readonly #keep: Keep;
  readonly #clocks: Clocks;
  #wallAt = 0;
  #pageAt = 0;

  constructor(keep: Keep, clocks: Clocks) {
    this.#keep = keep;
    this.#clocks = clocks;
    const kept = readMute(keep.read(KEPT_AS));
    if (kept === null) return;
    this.current = { fromAt: kept.fromAt, untilAt: kept.untilAt, keys: kept.keys };
    this.#wallAt = kept.wallAt;
    this.#pageAt = clocks.performanceNow();
    if (!this.#ownClocksAllow()) this.end();
  }

  /** Mutes what stands now, keys by `muteKey`; starting again takes the place of what was. */
  start(bells: readonly Mutable[], now: number, forMs: number = muteLimit): Mute {
    const mute = beginMute(bells, now, forMs);
    this.current = mute;
    this.#wallAt = this.#clocks.wallNow();
    this.#pageAt = this.#clocks.performanceNow();
    this.#keep.write(KEPT_AS, JSON.stringify({ ...mute, wallAt: this.#wallAt } satisfies Kept));
    return mute;
  }

  end(): void {
    this.current = null;
    this.#keep.write(KEPT_AS, null);
  }

  /** Ends it once it is over. Call each second; true when it has just ended, so that what waits sounds at once. */
  look(now: number): boolean {
    if (this.current === null || (isMuting(this.current, now) && this.#ownClocksAllow())) return false;
    this.end();
    return true;
  }

  mutes(key: string, level: BellLevel, now: number): boolean {
    return this.#ownClocksAllow() && mutes(this.current, key, level, now);
  }

  /** By the wall clock across reloads, and by the page's own, which nobody can set. */
  #ownClocksAllow(): boolean {
    const byWall = this.#clocks.wallNow() - this.#wallAt;
    const byPage = this.#clocks.performanceNow() - this.#pageAt;
    return byWall >= 0 && byWall < muteLimit && byPage >= 0 && byPage < muteLimit;
  }
}

/** What an older or spoilt page left behind is no mute. */
function readMute(text: string | null): Kept | null {
  if (text === null) return null;
  try {
    const { fromAt, untilAt, keys, wallAt } = JSON.parse(text) as Record<keyof Kept, unknown>;
    if (typeof fromAt !== 'number' || typeof untilAt !== 'number' || typeof wallAt !== 'number') return null;
    if (!Array.isArray(keys) || !keys.every((key) => typeof key === 'string')) return null;
    return { fromAt, untilAt, wallAt, keys };
  } catch {
    return null;
  }
}

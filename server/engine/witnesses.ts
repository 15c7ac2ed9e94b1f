import type { DeviceId } from '../../core/ids.ts';
import type { Salon } from '../../core/salon/salon.ts';
import { SECOND, type EpochMs, type Ms } from '../../core/time.ts';

/** What a screen that kept counting says: on that timescale it is so late now. */
export interface KeptTime {
  readonly device: DeviceId;
  readonly timescale: string;
  readonly now: EpochMs;
}

/** Two devices within this of each other agree (T3). */
const AGREED_WITHIN: Ms = 5 * SECOND;
/** More devices than any floor has; beyond them nobody is listened to. */
const MOST_DEVICES = 200;

/** Screens whose own clocks ran on while the server was away (T3). One is a proposal, two that agree are a confirmation. */
export class Witnesses {
  readonly #said = new Map<DeviceId, Ms>();
  #since: EpochMs | null = null;

  /** How long the floor was away, once two devices agree; the longer of both, which errs to the water. */
  hear({ device, timescale, now: theirs }: KeptTime, salon: Salon, ours: EpochMs): Ms | null {
    const { uncertainSince, lastSure } = salon;
    this.#forget(salon);
    if (uncertainSince === null || lastSure === null || lastSure.timescale !== timescale) return null;
    const least = uncertainSince - lastSure.aliveAt;
    const awayMs = least + Math.round(theirs - ours);
    if (awayMs < least - AGREED_WITHIN || (this.#said.size >= MOST_DEVICES && !this.#said.has(device))) return null;
    const agreeing = [...this.#said].filter(
      ([other, said]) => other !== device && Math.abs(said - awayMs) <= AGREED_WITHIN,
    );
    this.#said.set(device, awayMs);
    return agreeing.length === 0 ? null : Math.max(least, awayMs, ...agreeing.map(([, said]) => said));
  }

  /** What the only device that spoke so far says; null when none did, or several that do not agree. */
  only(salon: Salon): Ms | null {
    this.#forget(salon);
    const [first = null, second] = this.#said.values();
    return second === undefined ? first : null;
  }

  #forget({ uncertainSince }: Salon): void {
    if (uncertainSince === this.#since) return;
    this.#since = uncertainSince;
    this.#said.clear();
  }
}

/** A second touch within this time is a drop of water or a trembling glove (W3). */
export const DEAF_MS = 400;
/** A button whose words have just changed hears nothing for so long (W3); water on and burns always hear. */
export const CHANGED_DEAF_MS = 900;
/** How long discarding is held (W3). */
export const HOLD_MS = 1_000;
/** How long the last touch can be taken back from its bar (W3). */
export const TAKE_BACK_MS = 10_000;

/** Lets one touch through and none within the next 400 ms; a touch that was swallowed does not extend it. */
export class TouchGate {
  #lastAt = Number.NEGATIVE_INFINITY;

  passes(atMs: number): boolean {
    if (atMs - this.#lastAt < DEAF_MS) return false;
    this.#lastAt = atMs;
    return true;
  }

  /** A touch elsewhere counts as one here: what lies under the finger may have changed with it. */
  deafen(atMs: number): void {
    this.#lastAt = Math.max(this.#lastAt, atMs);
  }
}

/**
 * Gate of water on and burns: no other touch ever holds them up, but theirs deafen the others, whose buttons may have
 * come to lie under the same finger.
 */
export class UrgentGate extends TouchGate {
  readonly #others: TouchGate;

  constructor(others: TouchGate) {
    super();
    this.#others = others;
  }

  override passes(atMs: number): boolean {
    const through = super.passes(atMs);
    if (through) this.#others.deafen(atMs);
    return through;
  }
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** A finger that slid off the button before it was lifted means no. */
export function inside(box: Box, x: number, y: number): boolean {
  return x >= box.left && x <= box.right && y >= box.top && y <= box.bottom;
}

/** Whole seconds left of a take-back, rounded up; 0 at its end. */
export function takeBackSeconds(untilAt: number, now: number): number {
  return Math.max(0, Math.ceil((untilAt - now) / 1000));
}

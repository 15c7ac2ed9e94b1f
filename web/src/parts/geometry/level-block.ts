import type { BellLevel } from '../../../../core/bells/level.ts';

/** The shape says the level without colour: square notches in the right edge. */
export const NOTCHES = { NOTICE: 0, CAUTION: 1, WARNING: 2, DANGER: 3 } as const satisfies Record<BellLevel, number>;

/** DANGER's block is half on, half off at this rate: published 1.4–2.8 Hz, and under three flashes a second. */
export const BLINK_HZ = 1.5;

export interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Side of a notch: a third of the width, but never so tall that three of them leave less than as much between. */
export function notchPx({ widthPx, heightPx }: Size): number {
  return Math.min(widthPx / 3, heightPx / 7);
}

/** Outline of a block inside its box, inset by half the keyline, as an SVG path. */
export function levelBlockPath(level: BellLevel, size: Size, keylinePx: number): string {
  const inset = keylinePx / 2;
  const right = size.widthPx - inset;
  const bottom = size.heightPx - inset;
  const notch = notchPx(size);
  const count = NOTCHES[level];
  let path = `M${inset} ${inset}H${right}`;
  for (let n = 1; n <= count; n += 1) {
    const middle = (size.heightPx * n) / (count + 1);
    path += `V${middle - notch / 2}H${right - notch}V${middle + notch / 2}H${right}`;
  }
  return `${path}V${bottom}H${inset}Z`;
}

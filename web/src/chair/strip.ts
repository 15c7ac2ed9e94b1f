/** Strips for this use read in half steps (common practice, no source); the first shown is about that of hair after a rinse. */
const STEP = 0.5;
export const STRIP_FIRST = 7;

/** The next reading up or down, within the scale of pH, 0 to 14. */
export function stepStrip(ph: number, by: 1 | -1): number {
  return Math.min(14, Math.max(0, ph + by * STEP));
}

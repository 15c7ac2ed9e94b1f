import { DIGIT_ADVANCE, DIGIT_HEIGHT } from './typeface.ts';

/** Fill of a plate: how much of its height and width the label may take. */
const FILL_HEIGHT = 0.6;
const FILL_WIDTH = 0.84;

/** Advance of a character at weight 700, em; measured, rounded up. Letters are reckoned by their widest. */
function advanceOf(character: string): number {
  if (/[0-9]/.test(character)) return DIGIT_ADVANCE;
  if (/[WMwm@%]/.test(character)) return 0.97;
  return 0.8;
}

/** Type size of a label of 1 to 4 characters in a tile, px. */
export function plateTypePx(label: string, widthPx: number, heightPx: number): number {
  const wideEm = [...label].reduce((sum, character) => sum + advanceOf(character), 0);
  return Math.min((heightPx * FILL_HEIGHT) / DIGIT_HEIGHT, (widthPx * FILL_WIDTH) / Math.max(DIGIT_ADVANCE, wideEm));
}

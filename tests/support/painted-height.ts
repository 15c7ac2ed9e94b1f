/**
 * How tall text is really painted (W1). A picture is taken and its rows are counted: neither the type size nor the typeface's
 * own figures are believed. Chromium itself decodes the picture, so that nothing else has to read PNG.
 */
import type { Locator, Page } from '@playwright/test';

export interface PaintedSpan {
  /** Rows from the first to the last that carry paint, in pixels of the picture. */
  readonly rows: number;
  readonly columns: number;
}

/** A pixel is paint when it is nearer to the ink than to the paper; half-covered edges count by that. */
const HALF = 0.5;

/**
 * Rows and columns painted in a PNG. The paper is the colour of its top left pixel, the ink the colour farthest from that.
 * Null when all of it is paper.
 */
export async function paintedSpan(page: Page, png: Buffer): Promise<PaintedSpan | null> {
  return page.evaluate(
    async ({ base64, half }) => {
      const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0));
      const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
      const { width, height } = picture;
      const context = new OffscreenCanvas(width, height).getContext('2d');
      if (context === null) throw new Error('no canvas to decode with');
      context.drawImage(picture, 0, 0);
      const { data } = context.getImageData(0, 0, width, height);
      // Distance of each pixel's colour from the paper's. No named functions here: the page knows no bundler's marks.
      const far = new Float32Array(width * height);
      for (let n = 0; n < far.length; n += 1) {
        const at = 4 * n;
        const [r, g, b] = [data[at] ?? 0, data[at + 1] ?? 0, data[at + 2] ?? 0];
        far[n] = Math.hypot(r - (data[0] ?? 0), g - (data[1] ?? 0), b - (data[2] ?? 0));
      }
      const farthest = far.reduce((most, one) => Math.max(most, one), 0);
      // Less than this is the noise of one colour, no ink.
      if (farthest < 24) return null;
      let [top, bottom, left, right] = [height, -1, width, -1];
      far.forEach((one, n) => {
        if (one < farthest * half) return;
        const [x, y] = [n % width, Math.floor(n / width)];
        [top, bottom] = [Math.min(top, y), Math.max(bottom, y)];
        [left, right] = [Math.min(left, x), Math.max(right, x)];
      });
      return { rows: bottom - top + 1, columns: right - left + 1 };
    },
    { base64: png.toString('base64'), half: HALF },
  );
}

/**
 * Painted height of one text of the page, CSS px: the element's own picture with some room around it, everything else of the
 * page taken away, so that neither a rail nor a neighbour is counted.
 */
export async function paintedHeight(text: Locator, page: Page): Promise<number> {
  const box = await text.evaluate((element) => {
    const around = element.ownerDocument.createElement('style');
    around.textContent =
      '* { visibility: hidden !important; animation: none !important } .painted-alone { visibility: visible !important }';
    element.classList.add('painted-alone');
    element.ownerDocument.head.append(around);
    const { x, y, width, height } = element.getBoundingClientRect();
    return { x, y, width, height };
  });
  const air = Math.ceil(box.height * 0.5);
  const clip = {
    x: Math.max(0, Math.floor(box.x) - 4),
    y: Math.max(0, Math.floor(box.y) - air),
    width: Math.ceil(box.width) + 8,
    height: Math.ceil(box.height) + 2 * air,
  };
  const png = await page.screenshot({ clip, animations: 'disabled' });
  await text.evaluate((element) => {
    element.classList.remove('painted-alone');
    element.ownerDocument.head.lastElementChild?.remove();
  });
  const span = await paintedSpan(page, png);
  if (span === null) throw new Error('nothing is painted there');
  return span.rows / (await page.evaluate(() => devicePixelRatio));
}

export interface SeenFrom {
  readonly diagonalInches: number;
  readonly distanceM: number;
  /** CSS px of the page that fills the screen. */
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Angle of a painted height, arc minutes: α = 2 atan(h / 2d), with h from the screen's diagonal (square pixels). */
export function arcMinutes(paintedPx: number, { diagonalInches, distanceM, widthPx, heightPx }: SeenFrom): number {
  const mmPerPx = (diagonalInches * 25.4) / Math.sqrt(widthPx ** 2 + heightPx ** 2);
  const radians = 2 * Math.atan((paintedPx * mmPerPx) / (2 * distanceM * 1000));
  return (radians * 180 * 60) / Math.PI;
}

/**
 * The least tall of the ten digits as this text would paint them, CSS px: flat ones lack the overshoot of round ones, and a
 * countdown shows every one of them. Each is painted alone in a copy that stands where the text stands.
 */
export async function leastDigitHeight(text: Locator, page: Page): Promise<number> {
  let least = Number.POSITIVE_INFINITY;
  for (const digit of '0123456789') {
    await text.evaluate((element, one) => {
      const copy = element.cloneNode(false) as HTMLElement;
      copy.textContent = one;
      copy.dataset['paintedDigit'] = one;
      element.after(copy);
    }, digit);
    const copy = page.locator('[data-painted-digit]');
    least = Math.min(least, await paintedHeight(copy, page));
    await copy.evaluate((element) => element.remove());
  }
  return least;
}

import { setTimeout } from 'node:timers/promises';

/** Real time passes: trials drive real processes. ms. */
export const pause = (ms: number): Promise<void> => setTimeout(ms);

/** Resolves as soon as `holds`, with the real ms that it took; throws when it does not within `limitMs`. */
export async function until(
  what: string,
  holds: () => boolean | Promise<boolean>,
  limitMs = 20_000,
  everyMs = 20,
): Promise<number> {
  const begun = performance.now();
  while (!(await holds())) {
    if (performance.now() - begun > limitMs) throw new Error(`not within ${limitMs} ms: ${what}`);
    await pause(everyMs);
  }
  return performance.now() - begun;
}

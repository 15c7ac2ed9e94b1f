/** Draws numbers in [0, 1), the same ones for the same beginning. */
export type Draw = () => number;

/** FNV-1a over UTF-16 units: a 32-bit number from words. */
function numberOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/**
 * A small generator of its own per thing: what one model is like does not hang on how many came before. A Weyl sequence
 * (Knuth's golden ratio of 2³²) through the finalizer of MurmurHash3 (public domain); plenty for a day's whims.
 */
export function drawsFor(seed: number, thing: string): Draw {
  let state = numberOf(`${seed}/${thing}`);
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return ((mixed ^ (mixed >>> 16)) >>> 0) / 2 ** 32;
  };
}

export function between(draw: Draw, least: number, most: number): number {
  return least + draw() * (most - least);
}

export function oneOf<T>(draw: Draw, things: readonly [T, ...T[]]): T {
  return things[Math.floor(draw() * things.length)] ?? things[0];
}

import { bellsDue, nextBellAt } from '../../core/bells/due.ts';
import { partWindows, windowOf } from '../../core/exposure/window.ts';
import type { Floor } from '../../core/floor.ts';
import type { EpochMs } from '../../core/time.ts';
import { headline, headlineFigure } from '../../core/visit/headline.ts';
import { currentPass } from '../../core/visit/visit.ts';
import { runningFloor } from './floor.ts';
import type { Line } from './table.ts';

const HEADS = [50, 100, 200, 400] as const;
const OF_INTEREST = 200;
const ROUNDS = 40;
const WARM_UP = 10;

/** Every window, number and bell of the floor at an instant, as one turn of the server and one of a screen derive them. */
function derive(floor: Floor, now: EpochMs): number {
  let seen = bellsDue(floor, now, null).length + (nextBellAt(floor, now) ?? 0);
  const context = { now, figures: floor.salon.figures, uncertain: false };
  for (const { facts } of Object.values(floor.visits)) {
    const pass = currentPass(facts);
    if (pass !== null) seen += (windowOf(pass, now)?.closesAt ?? 0) + partWindows(pass).length;
    seen += headlineFigure(headline(facts, context), now)?.minutes ?? 0;
  }
  return seen;
}

/** Copying the very facts that are derived from; histories are left out, for nothing is derived from them. */
function copy(floor: Floor): number {
  return Object.values(floor.visits).map(({ facts }) => structuredClone(facts)).length;
}

function timed(run: () => number): number {
  const from = performance.now();
  // A result that is used cannot be left out by the compiler.
  if (Number.isNaN(run())) throw new Error('not a number');
  return performance.now() - from;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}

interface Measured {
  readonly heads: number;
  readonly derived: number;
  readonly copied: number;
}

/** All sizes take turns within each round, so that a busy machine slows them alike. Medians, in ms. */
function measure(): Measured[] {
  const floors = HEADS.map((heads) => ({
    heads,
    ...runningFloor(heads),
    derived: [] as number[],
    copied: [] as number[],
  }));
  for (let round = 0; round < WARM_UP + ROUNDS; round += 1) {
    for (const one of floors) {
      const derived = timed(() => derive(one.floor, one.now));
      const copied = timed(() => copy(one.floor));
      if (round < WARM_UP) continue;
      one.derived.push(derived);
      one.copied.push(copied);
    }
  }
  return floors.map(({ heads, derived, copied }) => ({ heads, derived: median(derived), copied: median(copied) }));
}

const ms = (value: number): string => `${value.toFixed(2)} ms`;
const times = (value: number): string => `${value.toFixed(2)} ×`;

/** Deriving everything against copying the same objects, and how it grows with the number of heads. */
export function derivation(): Line[] {
  const all = measure();
  const main = all
    .filter((one) => one.heads === OF_INTEREST)
    .map(({ heads, derived, copied }) => ({
      what: `deriving all windows, numbers and bells, ${heads} running visits`,
      measured: ms(derived),
      against: `structuredClone of the same facts, ${ms(copied)}`,
      ratio: times(derived / copied),
      goal: 'printed',
    }));
  const growth = all.slice(1).map((one, i) => {
    const before = all[i] ?? one;
    return {
      what: `growth from ${before.heads} to ${one.heads} visits`,
      measured: ms(one.derived),
      against: ms(before.derived),
      ratio: times(one.derived / before.derived),
      goal: 'about 2 × (linear)',
    };
  });
  return [...main, ...growth];
}

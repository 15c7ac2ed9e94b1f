import { readFileSync } from 'node:fs';
import { z } from 'zod';
import type { Reading } from '../../core/trust/timescale.ts';
import type { Clock } from './clock.ts';
import { RealClock } from './real-clock.ts';

/** What a hand may set: all four clocks at once, or the real ones so many ms ago (0: real time). */
const handSchema = z.union([
  z.strictObject({
    at: z.strictObject({
      wall: z.number().transform(Math.round),
      mono: z.number(),
      uptime: z.number().nonnegative(),
      bootId: z.string().min(1),
    }),
  }),
  z.strictObject({ behindMs: z.number().nonnegative() }),
]);

export type Hand = z.infer<typeof handSchema>;

/** Null for a file that is missing, half written or not a hand's. */
function handIn(file: string): Hand | null {
  try {
    return handSchema.safeParse(JSON.parse(readFileSync(file, 'utf8'))).data ?? null;
  } catch {
    return null;
  }
}

/**
 * A clock moved by hand through a file, so that it outlives the process however that ends. Whoever moves it writes beside
 * the file and renames; a file that cannot be read leaves the hand where it was.
 */
export class FileClock implements Clock {
  readonly #file: string;
  readonly #real: Clock;
  #hand: Hand;

  constructor(file: string, real: Clock = new RealClock()) {
    const hand = handIn(file);
    if (hand === null) throw new Error(`The hand-driven clock's file ${file} is missing or not understood.`);
    this.#file = file;
    this.#real = real;
    this.#hand = hand;
  }

  read(): Reading {
    this.#hand = handIn(this.#file) ?? this.#hand;
    if ('at' in this.#hand) return this.#hand.at;
    const { behindMs } = this.#hand;
    const { wall, mono, uptime, bootId } = this.#real.read();
    return { wall: wall - Math.round(behindMs), mono: mono - behindMs, uptime: uptime - behindMs, bootId };
  }
}

import { SECOND, type EpochMs, type Ms } from '../time.ts';

/** One reading of the machine's clocks, all in ms. */
export interface Reading {
  /** Wall clock, epoch ms. */
  readonly wall: EpochMs;
  /** The process's monotonic clock; does not run while the machine sleeps. Origin arbitrary. */
  readonly mono: Ms;
  /** Time since the machine booted, sleep included. */
  readonly uptime: Ms;
  /** Names one boot of the machine. */
  readonly bootId: string;
}

/** The last sign of life, stored at each commit and at least every 5 s (T3). */
export interface LastAlive {
  readonly now: EpochMs;
  readonly wall: EpochMs;
  readonly bootId: string;
  readonly uptime: Ms;
  /** Names the timescale; screens drop their samples when it changes (T5). */
  readonly timescale: string;
}

/** A running timescale: where it was at its last reading (T2). */
export interface Timescale {
  readonly id: string;
  readonly now: EpochMs;
  readonly at: Reading;
}

/** Uptime grown by more than this over the process clock means the machine slept (T2). */
const SLEPT_OVER: Ms = SECOND;

/** A wall clock off its expected place by more than this has been stepped; less is reading noise. */
const STEPPED_OVER: Ms = SECOND;

export interface Advanced {
  readonly timescale: Timescale;
  /** How long the machine slept since the last reading; 0 when it did not. */
  readonly sleptMs: Ms;
}

/**
 * The timescale at a new reading: it advances with the monotonic clock, and at once by what the machine slept (T2).
 * It never goes back and never follows the wall clock. `now` is whole milliseconds, so the clocks stay referred to the
 * moment that `now` names: the fraction is not lost, however often the time is read.
 */
export function advance(timescale: Timescale, reading: Reading): Advanced {
  const { id, at } = timescale;
  const mono = Math.max(0, reading.mono - at.mono);
  const slept = reading.uptime - at.uptime - mono;
  const sleptMs = slept > SLEPT_OVER ? slept : 0;
  // Below the threshold uptime stays where it was, so that short sleeps add up; coarser ticks never hide a sleep.
  const uptime = sleptMs > 0 ? reading.uptime : Math.min(at.uptime + mono, Math.max(at.uptime, reading.uptime));
  const grown = Math.floor(mono + sleptMs);
  const rest = mono + sleptMs - grown;
  const read: Reading = { ...reading, mono: Math.max(at.mono, reading.mono) - rest, uptime: uptime - rest };
  return { timescale: { id, now: timescale.now + grown, at: read }, sleptMs: Math.round(sleptMs) };
}

/**
 * The civil offset that the wall clock now asks for, if it stepped; null when it did not (T2). `held`: people have said what time it
 * is, so that a wall clock behind that is wrong (T3).
 */
export function civilStep(timescale: Timescale, civilOffsetMs: number, held = false): number | null {
  const offset = Math.round(timescale.at.wall - timescale.now);
  if (held && offset < civilOffsetMs) return null;
  return Math.abs(offset - civilOffsetMs) > STEPPED_OVER ? offset : null;
}

/** How a floor begins again. */
export interface Restart {
  readonly timescale: Timescale;
  readonly why: 'first' | 'taken' | 'restarted' | 'rebooted';
  /** How long nobody kept watch; 0 for a first start. */
  readonly awayMs: Ms;
  /** The time cannot be known: another boot, with a wall clock that lies before the last sign of life (T3). */
  readonly uncertain: boolean;
}

/** A wall clock may lag behind by this much and still be believed after a boot (T3). */
const BACKWARD_BELIEVED: Ms = 2 * SECOND;

/**
 * The timescale at a start (T3). In the same boot the wall clock is not asked: uptime has grown by what passed.
 * In another boot the wall clock is believed if it has gone on by at least what the machine has counted since it booted, all of
 * which lies after the last sign of life. Else the time is uncertain, and now begins at that least.
 * With no visit open the timescale simply takes over the wall clock (T2). `freshId` names a new timescale.
 */
export function restart(lastAlive: LastAlive | null, reading: Reading, visitsOpen: boolean, freshId: string): Restart {
  const begin = (now: EpochMs, id: string): Timescale => ({ id, now: Math.round(now), at: reading });
  if (lastAlive === null) return { timescale: begin(reading.wall, freshId), why: 'first', awayMs: 0, uncertain: false };
  const sameBoot = lastAlive.bootId === reading.bootId && reading.uptime >= lastAlive.uptime;
  if (!visitsOpen) {
    const awayMs = Math.max(
      0,
      Math.round(sameBoot ? reading.uptime - lastAlive.uptime : reading.wall - lastAlive.wall),
    );
    return { timescale: begin(reading.wall, freshId), why: 'taken', awayMs, uncertain: false };
  }
  if (sameBoot) {
    const awayMs = Math.round(reading.uptime - lastAlive.uptime);
    return {
      timescale: begin(lastAlive.now + awayMs, lastAlive.timescale),
      why: 'restarted',
      awayMs,
      uncertain: false,
    };
  }
  const grown = reading.wall - lastAlive.wall;
  // An uptime longer than the one before may be the same boot under another name: then it says nothing.
  const least = reading.uptime < lastAlive.uptime ? Math.round(reading.uptime) : 0;
  const believed = grown >= least - BACKWARD_BELIEVED;
  const awayMs = believed ? Math.max(least, Math.round(grown)) : least;
  return { timescale: begin(lastAlive.now + awayMs, freshId), why: 'rebooted', awayMs, uncertain: !believed };
}

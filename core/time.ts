/** An instant in milliseconds. On the timescale (T2) unless a name says wall or civil. Integers only. */
export type EpochMs = number;
/** A length of time in milliseconds, never negative unless stated. */
export type Ms = number;

export const SECOND: Ms = 1_000;
export const MINUTE: Ms = 60_000;
export const HOUR: Ms = 3_600_000;

/**
 * The second in which an instant lies. Moments of moves are recorded as whole seconds, so that every due instant that follows
 * from them falls on a second's border: bells, numbers and all screens then change together, and 0:00 appears at the instant (T1, T6).
 */
export function wholeSecond(at: EpochMs): EpochMs {
  return Math.floor(at / SECOND) * SECOND;
}

/** A calendar day in the salon's zone, ISO 8601 `YYYY-MM-DD`. */
export type LocalDate = string;

/**
 * The port through which civil time is asked. The server puts a time-zone library behind it, so that
 * this folder needs neither a clock nor a zone table. `at` is always a civil instant (epoch ms, UTC).
 */
export interface Zone {
  /** IANA name, such as `Europe/Berlin`. */
  readonly name: string;
  /** The local date on which the instant falls. */
  dateOf(at: EpochMs): LocalDate;
  /** First instant of a local date; some days do not begin at 00:00. */
  startOf(date: LocalDate): EpochMs;
  /** The local date `days` later (negative: earlier). */
  addDays(date: LocalDate, days: number): LocalDate;
}

/** Smallest of the given instants that is not null; null when there is none. */
export function earliest(...instants: readonly (EpochMs | null)[]): EpochMs | null {
  let least: EpochMs | null = null;
  for (const at of instants) if (at !== null) least = least === null ? at : Math.min(least, at);
  return least;
}

/** Latest of the given instants that is not null; null when there is none. */
export function latest(...instants: readonly (EpochMs | null)[]): EpochMs | null {
  let most: EpochMs | null = null;
  for (const at of instants) if (at !== null) most = most === null ? at : Math.max(most, at);
  return most;
}

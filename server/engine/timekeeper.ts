import { visitStream, type Draft, type SalonEvent } from '../../core/events.ts';
import { openVisits, type Floor } from '../../core/floor.ts';
import { SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import { advance, civilStep, restart, type LastAlive, type Timescale } from '../../core/trust/timescale.ts';
import type { Clock } from '../clock/clock.ts';

/** Being away for less than this is told to nobody: a screen would not have noticed. */
const GAP_TOLD_OVER: Ms = SECOND;

/** What time did by itself since the last turn. */
export interface Moment {
  readonly now: EpochMs;
  readonly drafts: readonly Draft[];
}

/** Keeps the timescale: one reading per turn, and what follows from it as events (T1–T3). */
export class Timekeeper {
  readonly #clock: Clock;
  readonly #freshId: () => string;
  #timescale: Timescale;

  constructor(clock: Clock, freshId: () => string) {
    this.#clock = clock;
    this.#freshId = freshId;
    const at = clock.read();
    this.#timescale = { id: freshId(), now: Math.round(at.wall), at };
  }

  /** At a start (T3). */
  begin(lastAlive: LastAlive | null, floor: Floor): Moment {
    const { timescale, why, awayMs, uncertain } = restart(
      lastAlive,
      this.#clock.read(),
      openVisits(floor).length > 0,
      this.#freshId(),
    );
    this.#timescale = timescale;
    const { now } = timescale;
    const events: SalonEvent[] = [];
    if (why === 'taken' && standsApart(floor)) events.push({ type: 'TimescaleTaken' });
    if ((why === 'restarted' || why === 'rebooted') && (uncertain || awayMs > GAP_TOLD_OVER)) {
      events.push({ type: 'GapSeen', fromAt: now - awayMs, why });
    }
    if (!uncertain) return { now, drafts: onSalon(events, now) };
    events.push({ type: 'TimeBecameUncertain', aliveAt: now - awayMs, timescale: lastAlive?.timescale ?? null });
    const heads = openVisits(floor).map(({ id }): Draft => {
      return { stream: visitStream(id), at: now, event: { type: 'TimeLost' } };
    });
    return { now, drafts: [...onSalon(events, now), ...heads] };
  }

  /** At a turn. With no visit open the timescale takes over the wall clock; else a step moves the civil offset (T2). */
  advance(floor: Floor): Moment {
    const { timescale, sleptMs } = advance(this.#timescale, this.#clock.read());
    this.#timescale = timescale;
    const events: SalonEvent[] = [];
    if (openVisits(floor).length === 0 && civilStep(timescale, 0) !== null) {
      this.#timescale = { id: this.#freshId(), now: Math.round(timescale.at.wall), at: timescale.at };
      events.push({ type: 'TimescaleTaken' });
      return { now: this.#timescale.now, drafts: onSalon(events, this.#timescale.now) };
    }
    const { now } = timescale;
    if (sleptMs > 0) events.push({ type: 'GapSeen', fromAt: now - sleptMs, why: 'slept' });
    // A wall clock that is known to be wrong is not shown to anybody.
    const { uncertainSince, civilOffsetMs, offsetHeld } = floor.salon;
    const offsetMs = uncertainSince === null ? civilStep(timescale, civilOffsetMs, offsetHeld) : null;
    if (offsetMs !== null) events.push({ type: 'CivilStepped', offsetMs });
    return { now, drafts: onSalon(events, now) };
  }

  /** The time at this moment, between turns; moves nothing. */
  peek(): { readonly timescale: string; readonly now: EpochMs } {
    const { timescale } = advance(this.#timescale, this.#clock.read());
    return { timescale: timescale.id, now: timescale.now };
  }

  /**
   * How long the floor was away by the machine's own wall clock, if that has been set right since the time was lost; null while it
   * says nothing. A proposal: only a person or two devices confirm it (T3).
   */
  awayByWall({ salon }: Floor): Ms | null {
    const { uncertainSince, lastSure, civilOffsetMs } = salon;
    if (uncertainSince === null || lastSure === null) return null;
    const { now, at } = advance(this.#timescale, this.#clock.read()).timescale;
    const grown = at.wall - (lastSure.aliveAt + civilOffsetMs);
    const awayMs = Math.round(grown - (now - uncertainSince));
    return awayMs >= uncertainSince - lastSure.aliveAt ? awayMs : null;
  }

  /** It is known again how long we were away: now lies so much later (T3). What this returns undoes it. */
  moveOn(byMs: Ms): () => void {
    const before = this.#timescale;
    this.#timescale = { ...before, id: this.#freshId(), now: before.now + byMs };
    return () => {
      this.#timescale = before;
    };
  }

  /** The sign of life of this turn (T3). */
  alive(): LastAlive {
    const { id, now, at } = this.#timescale;
    return { timescale: id, now, wall: Math.round(at.wall), bootId: at.bootId, uptime: at.uptime };
  }
}

/** Whether the floor remembers anything that taking over the wall clock settles. */
function standsApart({ salon, gap }: Floor): boolean {
  return salon.civilOffsetMs !== 0 || salon.uncertainSince !== null || gap !== null;
}

function onSalon(events: readonly SalonEvent[], now: EpochMs): Draft[] {
  return events.map((event) => ({ stream: 'salon', at: now, event }));
}

import { headline, type Headline } from '../../../core/visit/headline.ts';
import { MINUTE, type EpochMs, type Ms } from '../../../core/time.ts';
import type { Snapshot } from '../../../shared/wire.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';

/** Long enough for all that is done to the clocks of one watch; figures invented for trials. */
const LEAST = 60 * MINUTE;
const MOST = 110 * MINUTE;
const CEILING = 170 * MINUTE;

export interface Seen {
  /** How far the countdown on the screens is from the truth, ms. */
  readonly errorMs: Ms;
  /** How far the time of day that people are shown is from the wall clock, ms. */
  readonly shownErrorMs: Ms;
  readonly line: Headline;
  /** The floor says that its time is not certain (T3). */
  readonly uncertain: boolean;
  readonly snapshot: Snapshot;
  readonly now: EpochMs;
}

/** One head in processing, and a stop watch of the harness's own beside it, which nothing steps. */
export class Watch {
  readonly server: ServerProcess;
  readonly clock: HandClock;
  visit = '';
  /** Time passed, by the stop watch, when the product must be off: 0 until there is a head. */
  #closesAfterMs: Ms = 0;

  private constructor(server: ServerProcess, clock: HandClock) {
    this.server = server;
    this.clock = clock;
  }

  static async begin(entry: string): Promise<Watch> {
    const clock = new HandClock();
    const server = new ServerProcess(clock, undefined, ['--log-level', 'fatal'], { run: [entry] });
    const watch = new Watch(await server.start(), clock);
    const rules = relaxer({ minAfterMs: LEAST, maxAfterMs: MOST, ceilingMs: CEILING, firstTestMs: MOST });
    await setUpSalon(server, rules, 2);
    watch.visit = await server.do({ type: 'BeginApplication', chair: 1, visit: null, service: null });
    clock.pass(15 * MINUTE);
    await server.do({ type: 'FinishApplication', visit: watch.visit });
    watch.#closesAfterMs = clock.passedMs + MOST;
    return watch;
  }

  /** What remains until the close, by the stop watch. */
  get leftMs(): Ms {
    return this.#closesAfterMs - this.clock.passedMs;
  }

  /** What a screen shows now. */
  async look(): Promise<Seen> {
    const { now } = await this.server.turn();
    const snapshot = await this.server.floor();
    const salon = snapshot.entities['salon'];
    const visit = snapshot.entities[`visit/${this.visit}`];
    if (salon?.kind !== 'salon' || visit?.kind !== 'visit') throw new Error('no salon or no visit');
    const { figures, uncertainSince } = salon.facts;
    const line = headline(visit.facts, { now, figures, uncertain: uncertainSince !== null });
    // The window opens an hour before it closes: the number counts down to the one or the other.
    const to = line.number !== null && 'to' in line.number ? line.number.to : Number.NaN;
    const leftTo = line.deed === 'rinse-from' ? this.leftMs - (MOST - LEAST) : this.leftMs;
    return {
      errorMs: to - now - leftTo,
      shownErrorMs: now + snapshot.civilOffsetMs - this.clock.wall,
      line,
      uncertain: uncertainSince !== null,
      snapshot,
      now,
    };
  }

  /** The gap that the floor tells, as text; null when it tells none. */
  static gapIn({ snapshot }: Seen): { readonly why: string; readonly ms: Ms } | null {
    const gap = snapshot.entities['gap'];
    return gap?.kind === 'gap' && gap.facts !== null
      ? { why: gap.facts.why, ms: gap.facts.toAt - gap.facts.fromAt }
      : null;
  }

  static floorBellsIn({ snapshot }: Seen): readonly string[] {
    const bells = snapshot.entities['floor-bells'];
    return bells?.kind === 'floor-bells' ? bells.facts.bells.map(({ kind, level }) => `${kind} ${level}`) : [];
  }
}

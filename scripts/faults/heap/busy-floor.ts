import type { Command } from '../../../core/command.ts';
import { MINUTE, type Ms } from '../../../core/time.ts';
import type { ServerProcess } from '../../../tests/support/server-process.ts';

/** From one client's seating to the next at the same chair. */
const ROUND: Ms = 48 * MINUTE;
const BASINS = [91, 92];

/** One touch of a round: when, and what is said. */
type Touch = readonly [afterMin: number, say: (visit: string, chair: number) => Command];

/** A head whose rinse comes in time, and one that rings through all levels before anybody goes. */
const round = (rinseMin: number): readonly Touch[] => [
  [2, (visit, chair) => ({ type: 'BeginApplication', chair, visit, service: null })],
  [5, (visit) => ({ type: 'MarkPartDone', visit, part: null })],
  [9, (visit) => ({ type: 'MarkPartDone', visit, part: null })],
  [12, (visit) => ({ type: 'MarkPartDone', visit, part: null })],
  [16, (visit) => ({ type: 'FinishApplication', visit })],
  [27, (visit) => ({ type: 'TakeBell', visit, cause: 'off' })],
  [rinseMin, (visit, chair) => ({ type: 'BeginRinse', chair, visit, basin: BASINS[chair % 2] ?? null })],
  [rinseMin + 6, (visit) => ({ type: 'ClearAndOff', visit })],
  [rinseMin + 8, (visit) => ({ type: 'MarkShampoo', visit, indicator: 'colourless', strip: null })],
  [rinseMin + 10, (visit) => ({ type: 'MarkShampoo', visit, indicator: 'colourless', strip: null })],
  [rinseMin + 11, (visit) => ({ type: 'MoveOn', visit, to: 'condition' })],
  [rinseMin + 13, (visit) => ({ type: 'MoveOn', visit, to: 'dry' })],
  [rinseMin + 14.5, (visit) => ({ type: 'MoveOn', visit, to: 'finished' })],
];

interface Chair {
  readonly number: number;
  rounds: number;
  /** Since the floor opened, ms. */
  seatedAt: Ms;
  next: number;
}

/** Chairs at which one client follows the other, each a little after the chair before. */
export class BusyFloor {
  readonly #server: ServerProcess;
  readonly #chairs: readonly Chair[];
  refused = 0;
  said = 0;

  constructor(server: ServerProcess, chairs: number) {
    this.#server = server;
    this.#chairs = Array.from({ length: chairs }, (_, n) => {
      return { number: n + 1, rounds: 0, seatedAt: (n * ROUND) / chairs, next: -1 };
    });
  }

  /** Everything that people touch up to now. A refusal is counted: a bell that nobody has to take, for instance. */
  async upTo(passedMs: Ms): Promise<void> {
    for (const chair of this.#chairs) {
      while (await this.#nextOf(chair, passedMs));
    }
  }

  async #nextOf(chair: Chair, passedMs: Ms): Promise<boolean> {
    const visit = `visit-${chair.number}-${String(chair.rounds).padStart(4, '0')}`;
    if (chair.next === -1) {
      if (passedMs < chair.seatedAt) return false;
      const seat = {
        type: 'SeatVisit',
        chair: chair.number,
        service: 'service-1',
        stylist: 'person-ama',
        label: null,
      } as const;
      await this.#say(seat, visit);
      chair.next = 0;
      return true;
    }
    const touch = round(chair.number % 3 === 0 ? 33 : 28)[chair.next];
    if (touch === undefined) {
      await this.#giveReasons(visit);
      Object.assign(chair, { rounds: chair.rounds + 1, seatedAt: chair.seatedAt + ROUND, next: -1 });
      return true;
    }
    const [afterMin, say] = touch;
    if (passedMs < chair.seatedAt + afterMin * MINUTE) return false;
    await this.#say(say(visit, chair.number), null);
    chair.next += 1;
    return true;
  }

  /** At the till. A visit that owes one stays on the floor for a day. */
  async #giveReasons(visit: string): Promise<void> {
    const { owed } = await this.#server.facts(visit);
    for (const { item, version } of owed) {
      await this.#say({ type: 'GiveReason', visit, item, version, reason: 'done-not-marked', note: null }, null);
    }
  }

  async #say(command: Command, id: string | null): Promise<void> {
    const { status } = await this.#server.send(command, { by: 'person-joss', ...(id === null ? {} : { id }) });
    this.said += 1;
    if (status !== 200) this.refused += 1;
  }
}

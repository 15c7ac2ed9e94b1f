import type { Reach } from '../../core/bells/carrying.ts';
import { bellDrafts, bellsDue, nextBellAt } from '../../core/bells/due.ts';
import { shownDrafts, type Receipt } from '../../core/bells/receipts.ts';
import type { Command, Sender } from '../../core/command.ts';
import { decide } from '../../core/decide.ts';
import { evolve } from '../../core/evolve.ts';
import type { Draft, Recorded } from '../../core/events.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import type { Answer } from '../../core/refusal.ts';
import { movedOnBy } from '../../core/salon/confirm-time.ts';
import { MINUTE, type EpochMs } from '../../core/time.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import { withWords } from '../../core/words.ts';
import { relaxer } from './directions-kit.ts';

/** Noon of an invented day; every test counts minutes from here. */
export const NOON: EpochMs = Date.UTC(2026, 2, 10, 12);

/** A floor that lives in memory: commands are decided, recorded, folded, and bells follow, by a clock moved by hand. */
export class FloorLife {
  floor: Floor = emptyFloor;
  log: Recorded[] = [];
  now: EpochMs = NOON;
  unsavedSince: EpochMs | null = null;
  /** What is known of the devices; null: nothing, and then nobody is marked as not reached. */
  reach: Reach | null = null;
  private ids = 0;

  /** A set-up salon: chairs 1 to 4, basins 91 and 92 (A and B), two people, a relaxer and its service. */
  static salon(rules = relaxer()): FloorLife {
    const life = new FloorLife();
    life.send({
      type: 'SetUpSalon',
      name: 'Test salon',
      zone: 'Europe/Berlin',
      language: 'en',
      hourCycle: 'h23',
      demonstration: false,
    });
    for (const number of [1, 2, 3, 4]) life.send({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
    life.send({ type: 'AddPlace', kind: 'basin', number: 91, label: 'A' });
    life.send({ type: 'AddPlace', kind: 'basin', number: 92, label: 'B' });
    life.send({ type: 'AddPerson', name: 'Ama', roles: ['stylist'] }, { id: 'person-ama' });
    life.send({ type: 'AddPerson', name: 'Joss', roles: ['assistant'] }, { id: 'person-joss' });
    life.send(
      { type: 'WriteDirections', directions: null, name: 'Regular', source: 'leaflet', rules },
      { id: 'directions-1' },
    );
    life.send(
      { type: 'WriteService', service: null, name: 'Straightening', passes: ['directions-1'], limits: [] },
      { id: 'service-1' },
    );
    return life;
  }

  /** Moves the clock on, ringing on the way whatever falls due, each bell at its own instant. */
  pass(minutes: number): this {
    return this.until(this.now + Math.round(minutes * MINUTE));
  }

  /** Moves the clock to so many minutes after noon. */
  at(minutes: number): this {
    return this.until(NOON + Math.round(minutes * MINUTE));
  }

  send(command: Command, sender: Partial<Sender> = {}): Answer {
    const full: Sender = {
      id: `command-${++this.ids}`,
      by: null,
      device: null,
      seen: null,
      happenedAt: null,
      ...sender,
    };
    const { events, words, answer } = decide(this.floor, command, full, this.now);
    this.now += movedOnBy(events);
    // As the server does: somebody unknown here is named nowhere.
    const known = full.by !== null && this.floor.people[full.by] !== undefined;
    this.record(events, known ? full : { ...full, by: null });
    this.floor = { ...this.floor, words: withWords(this.floor.words, words) };
    this.ring();
    return answer;
  }

  /** Sends and expects it to be done; returns the visit concerned. */
  do(command: Command, sender: Partial<Sender> = {}): string {
    const answer = this.send(command, sender);
    if (answer.outcome !== 'done') throw new Error(`refused: ${answer.code} ${JSON.stringify(answer)}`);
    return answer.visit ?? '';
  }

  /** Devices confirm that they have shown bells (R7). */
  receive(receipts: readonly Receipt[]): this {
    this.record(shownDrafts(this.floor, receipts, this.now), null);
    this.ring();
    return this;
  }

  facts(visit: string): VisitFacts {
    const one = this.floor.visits[visit];
    if (one === undefined) throw new Error(`no visit ${visit}`);
    return one.facts;
  }

  bells(visit: string): string[] {
    return this.facts(visit).bells.map((bell) => `${bell.kind} ${bell.level} #${bell.episode}`);
  }

  private until(instant: EpochMs): this {
    for (;;) {
      const next = nextBellAt(this.floor, this.now, this.outside);
      if (next === null || next > instant) break;
      this.now = next;
      this.ring();
    }
    this.now = Math.max(this.now, instant);
    this.ring();
    return this;
  }

  private get outside() {
    return { unsavedSince: this.unsavedSince, reach: this.reach };
  }

  private ring(): void {
    this.record(bellDrafts(bellsDue(this.floor, this.now, this.outside), this.now), null);
  }

  private record(drafts: readonly Draft[], sender: Sender | null): void {
    for (const draft of drafts) {
      const version = this.log.filter((one) => one.stream === draft.stream).length + 1;
      const recorded: Recorded = {
        ...draft,
        seq: this.log.length + 1,
        version,
        recordedAt: this.now,
        by: sender?.by ?? null,
        device: sender?.device ?? null,
        command: sender?.id ?? null,
      };
      this.log.push(recorded);
      this.floor = evolve(this.floor, recorded);
    }
  }
}

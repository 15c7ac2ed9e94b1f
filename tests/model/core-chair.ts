import { bellDrafts, bellsDue, nextBellAt } from '../../core/bells/due.ts';
import type { Command, Sender } from '../../core/command.ts';
import { decide } from '../../core/decide.ts';
import { evolve } from '../../core/evolve.ts';
import type { Draft, Recorded } from '../../core/events.ts';
import { shampoosWanted } from '../../core/exposure/finishing.ts';
import { partsOnHair } from '../../core/exposure/parts.ts';
import { certainClose } from '../../core/exposure/window.ts';
import { emptyFloor, visitAt, type Floor } from '../../core/floor.ts';
import type { Answer } from '../../core/refusal.ts';
import { productOn, type Pass, type VisitFacts } from '../../core/visit/visit.ts';
import { nobody, type Observed } from './machine/observe.ts';
import { chairs, services, startAt } from './salon-kit.ts';

/** The parts of core that the duel drives; a planted mutant replaces one of them. */
export interface Core {
  decide: typeof decide;
  evolve: typeof evolve;
  bellsDue: typeof bellsDue;
  nextBellAt: typeof nextBellAt;
}
export const trueCore: Core = { decide, evolve, bellsDue, nextBellAt };

/** Core driven quickly: no log is kept, only the floor and each stream's length. */
export class CoreChair {
  floor: Floor;
  now = startAt;
  private readonly core: Core;
  private readonly versions: Map<string, number>;
  private readonly observed = new WeakMap<VisitFacts, Observed>();
  private ids = 0;
  private seq = 0;

  constructor(core: Core, from: CoreChair | null = null) {
    this.core = core;
    this.floor = from?.floor ?? emptyFloor;
    this.versions = new Map(from?.versions);
    this.seq = from?.seq ?? 0;
  }

  /** The salon in which every sequence begins. Chair `taken` is occupied throughout. */
  static salon(): CoreChair {
    const life = new CoreChair(trueCore);
    life.setUp({
      type: 'SetUpSalon',
      name: 'Test',
      zone: 'Europe/Berlin',
      language: 'en',
      hourCycle: 'h23',
      demonstration: false,
    });
    for (const number of chairs.all) life.setUp({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
    life.setUp({ type: 'AddPlace', kind: 'basin', number: chairs.basin, label: 'A' });
    life.setUp({ type: 'AddPerson', name: 'Ama', roles: ['stylist'] }, 'person-ama');
    life.setUp({ type: 'AddPerson', name: 'Joss', roles: ['assistant'] }, 'person-joss');
    life.setUp({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, 'person-sena');
    services.forEach(({ passes, limits }, index) => {
      const ids = passes.map((rules, pass) => {
        const id = `directions-${String(index)}-${String(pass)}`;
        life.setUp({ type: 'WriteDirections', directions: null, name: id, source: 'leaflet', rules }, id);
        return id;
      });
      life.setUp(
        { type: 'WriteService', service: null, name: `s${String(index)}`, passes: ids, limits },
        `service-${String(index)}`,
      );
    });
    life.setUp(
      { type: 'SeatVisit', chair: chairs.taken, service: 'service-unlimited', stylist: null, label: null },
      'visit-beside',
    );
    return life;
  }

  private setUp(command: Command, id = `setup-${String(this.seq)}`): void {
    const service = command.type === 'SeatVisit' ? { ...command, service: null } : command;
    const answer = this.send(service, { id });
    if (answer.outcome !== 'done') throw new Error(`setting up: ${answer.code}`);
  }

  send(command: Command, sender: Partial<Sender>): Answer {
    const id = `command-${String(++this.ids)}`;
    const full: Sender = { id, by: null, device: null, seen: null, happenedAt: null, ...sender };
    const { events, answer } = this.core.decide(this.floor, command, full, this.now);
    this.record(events, full);
    return answer;
  }

  /** Rings whatever is due. */
  ring(): void {
    this.record(bellDrafts(this.core.bellsDue(this.floor, this.now, null), this.now), null);
  }

  /** Moves the clock on, ringing each bell at its own instant. */
  pass(ms: number): void {
    const until = this.now + ms;
    for (;;) {
      const next = this.core.nextBellAt(this.floor, this.now);
      if (next === null || next > until) break;
      this.now = next;
      this.ring();
    }
    this.now = until;
    this.ring();
  }

  version(visit: string): number {
    return this.versions.get(`visit/${visit}`) ?? 0;
  }

  openAt(chair: number): string | null {
    return visitAt(this.floor, chair)?.id ?? null;
  }

  observe(visit: string | null): Observed {
    const facts = visit === null ? undefined : this.floor.visits[visit]?.facts;
    if (facts === undefined) return nobody;
    const known = this.observed.get(facts) ?? observed(facts);
    this.observed.set(facts, known);
    return known;
  }

  private record(drafts: readonly Draft[], sender: Sender | null): void {
    for (const draft of drafts) {
      const version = (this.versions.get(draft.stream) ?? 0) + 1;
      this.versions.set(draft.stream, version);
      const recorded: Recorded = {
        ...draft,
        seq: ++this.seq,
        version,
        recordedAt: this.now,
        by: sender?.by ?? null,
        device: sender?.device ?? null,
        command: sender?.id ?? null,
      };
      this.floor = this.core.evolve(this.floor, recorded);
    }
  }
}

const sinceStart = (at: number): number => (at - startAt) / 1000;

/** A head that counts as one part is not listed. */
function hairOf(pass: Pass): string {
  const parts = partsOnHair(pass)
    .filter(({ part }) => part !== null)
    .map(({ part, begunAt, doneAt }) => {
      const until = doneAt === null ? '' : String(sinceStart(doneAt));
      return `${String(part)}: ${String(sinceStart(begunAt))}–${until}`;
    });
  const close = pass.begun === null ? null : certainClose(pass);
  return `${parts.sort().join(', ')}; ${close === null ? 'open' : String(sinceStart(close))}`;
}

/** The facts in the words that the model predicts them in. */
function observed(facts: VisitFacts): Observed {
  const pass = facts.passes[facts.pass];
  const step = pass?.rules?.finishing.find((one) => one.kind !== 'condition');
  const wanted = pass !== undefined && step?.kind === 'shampoos' ? shampoosWanted(pass, step) : 0;
  const { burns } = facts;
  return {
    stage: facts.stage,
    pass: facts.stage === 'finished' ? null : facts.pass,
    product: productOn(facts),
    beginUnknown: facts.passes.map((one) => one.beginUnknown).join(),
    parts: pass?.parts.length ?? 0,
    hands: (pass?.hands ?? [])
      .filter((one) => one.untilAt === null)
      .map((one) => one.by ?? 'somebody')
      .join(', '),
    hair: pass === undefined ? '' : hairOf(pass),
    shampoos: facts.stage === 'neutralize' ? `${String(pass?.shampoos.length ?? 0)} of ${String(wanted)}` : '',
    burns:
      burns === null
        ? ''
        : `${burns.place} ${burns.closed === null ? (burns.waterAt === null ? 'to the water' : 'counting') : 'closed'}`,
    tingles:
      facts.tingles === null
        ? ''
        : `${String(sinceStart(facts.tingles.at))} ${facts.tingles.answered?.answer ?? 'open'}`,
    whose: `${facts.stylist ?? 'nobody'} to ${facts.offered?.to ?? 'nobody'}`,
    end: facts.end ?? '',
    settled: facts.settled !== null,
    bells: facts.bells
      .map(
        (bell) =>
          `${bell.cause}/${bell.kind} ${bell.level} #${String(bell.episode)}${bell.taken ? ' taken' : ''}${bell.passed.map((one) => ` not ${one}`).join('')}`,
      )
      .sort()
      .join(', '),
    owed: [...new Set(facts.owed.map((one) => `${one.item} ${one.stage}/${String(one.pass)}`))].sort().join(', '),
  };
}

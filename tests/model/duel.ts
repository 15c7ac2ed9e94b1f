import type { Command } from '../../core/command.ts';
import type { MoveOnTarget } from '../../core/visit/commands/command.ts';
import { CoreChair, trueCore, type Core } from './core-chair.ts';
import { dice, nameOf, rollTurn, type Turn } from './dice.ts';
import type { Head } from './machine/head.ts';
import { observedKeys, predicted } from './machine/observe.ts';
import type { Said } from './machine/said.ts';
import { ModelChair } from './machine/visit-machine.ts';
import { chairs, offers } from './salon-kit.ts';

export interface Difference {
  turn: number;
  what: string;
  model: unknown;
  core: unknown;
}

export interface Coverage {
  sequences: number;
  commands: number;
  done: number;
  pairs: Map<string, number>;
}

export const noCoverage = (): Coverage => ({ sequences: 0, commands: 0, done: 0, pairs: new Map() });

const salon = CoreChair.salon();

/** One chair played by both sides at once. */
class Duel {
  private readonly model = new ModelChair(offers);
  private readonly life: CoreChair;
  private chair: number = chairs.free[0];
  /** Core's ids of the model's visits, and the version at which each act of each stood. */
  private readonly ids = new Map<number, string>();
  private readonly versions = new Map<number, number[]>();

  constructor(core: Core) {
    this.life = new CoreChair(core, salon);
  }

  get head(): Head | null {
    return this.model.world.head;
  }

  get answer(): string {
    return this.model.world.answer;
  }

  get state(): string {
    const head = this.head;
    if (head?.stage !== 'neutralize') return head?.stage ?? 'none';
    const step = head.passes[head.pass]?.leaflet?.finishing.find((one) => one.kind !== 'condition');
    return `neutralize as ${step?.kind ?? 'nothing'}`;
  }

  /** Plays one turn; null when both sides agree. */
  play(turn: Turn, number: number): Difference | null {
    this.life.pass(turn.wait * 1000);
    this.model.hear({ type: 'TimePasses', seconds: turn.wait });
    const early = this.compare(number, `after ${String(turn.wait)} s`);
    if (early !== null) return early;
    const head = this.head;
    const seen = turn.behind === null ? null : Math.max(0, (head?.acts ?? 0) - turn.behind);
    const command = this.commandOf(turn, head);
    const answer = this.life.send(command, {
      seen: this.versionSeen(head, seen),
      by: turn.said.by,
      happenedAt: this.happenedAt(turn),
    });
    this.model.hear({ ...turn.said, seen } as Said);
    const told = answer.outcome === 'done' ? 'done' : answer.code;
    const expected = this.model.world.answer;
    if (told !== expected) return { turn: number, what: 'answer', model: expected, core: told };
    // A statement is kept though it is refused (X3).
    if (told === 'done' || this.head?.acts !== head?.acts) {
      this.follow(command, answer.outcome === 'done' ? answer.visit : null);
    }
    this.life.ring();
    return this.compare(number, 'after the command');
  }

  private happenedAt({ said }: Turn): number | null {
    return said.type === 'MarkPartDone' && said.ago !== null ? this.life.now - said.ago * 1000 : null;
  }

  /** What the answer tells about ids, and the versions at which the acts now stand. */
  private follow(command: Command, visit: string | null): void {
    const head = this.head;
    if (head === null) return;
    if (visit !== null && !this.ids.has(head.serial)) this.ids.set(head.serial, visit);
    if (command.type === 'MoveTo') this.chair = command.chair;
    const known = this.versions.get(head.serial) ?? [0];
    known[head.acts] = this.life.version(this.ids.get(head.serial) ?? '');
    this.versions.set(head.serial, known);
    this.chair = this.life.floor.visits[this.ids.get(head.serial) ?? '']?.facts.chair ?? this.chair;
  }

  private versionSeen(head: Head | null, seen: number | null): number | null {
    if (seen === null || head === null) return seen;
    const known = this.versions.get(head.serial) ?? [];
    for (let act = seen; act >= 0; act -= 1) if (known[act] !== undefined) return known[act] ?? 0;
    return 0;
  }

  private compare(turn: number, when: string): Difference | null {
    const head = this.head;
    const model = predicted(head);
    const core = this.life.observe(head === null ? null : (this.ids.get(head.serial) ?? null));
    for (const key of observedKeys) {
      const value = model[key];
      const other = core[key];
      if (other !== value) return { turn, what: `${key} ${when}`, model: value, core: other };
    }
    return null;
  }

  private commandOf({ said, named }: Turn, head: Head | null): Command {
    const visit = head === null ? 'visit-unknown' : (this.ids.get(head.serial) ?? 'visit-unknown');
    const atChair = named && head !== null ? visit : null;
    const chair = this.chair;
    switch (said.type) {
      case 'SeatVisit':
        return { type: said.type, chair, service: `service-${String(said.service)}`, stylist: null, label: null };
      case 'BeginApplication': {
        const empty = head === null || head.stage === 'finished';
        const service =
          (empty || (said.byChair && head.stage !== 'prep')) && said.service !== null
            ? `service-${String(said.service)}`
            : null;
        return { type: said.type, chair, visit: empty || said.byChair ? null : visit, service };
      }
      case 'BeginRinse':
        return { type: said.type, chair, visit: atChair, basin: said.basin ? chairs.basin : null };
      case 'ReportBurns':
        return { type: said.type, chair, visit: atChair, place: said.place };
      case 'MarkPartDone':
        return { type: said.type, visit, part: said.part };
      case 'SayPrep':
        return { type: said.type, visit, complete: said.complete };
      case 'JoinAsHelper':
      case 'LeaveAsHelper':
        return { type: said.type, visit, person: said.person };
      case 'TestStrand': {
        const result = said.ready ? 'ready' : 'not-yet';
        return { type: said.type, visit, place: said.place, result, part: said.part, note: null };
      }
      case 'SetHeat':
        return { type: said.type, visit, on: said.on };
      case 'SetLimits':
        return {
          type: said.type,
          visit,
          minAfterMs: inMs(said.minAfter),
          maxAfterMs: inMs(said.maxAfter),
          ceilingMs: inMs(said.ceiling),
          reason: said.reason,
        };
      case 'NameBasin':
        return { type: said.type, visit, basin: chairs.basin };
      case 'MarkShampoo':
        return { type: said.type, visit, indicator: said.indicator, strip: said.strip };
      case 'MoveOn':
        return { type: said.type, visit, to: said.to as MoveOnTarget };
      case 'MoveTo': {
        const free = chairs.free.find((one) => one !== chair) ?? chair;
        return {
          type: said.type,
          visit,
          chair: said.chair === 'free' ? free : said.chair === 'taken' ? chairs.taken : chairs.unknown,
        };
      }
      case 'CloseBurns':
        return { type: said.type, visit, done: 'eased' };
      case 'TakeBell':
        return { type: said.type, visit, chair: null, cause: said.cause };
      case 'PassBell':
        return { type: said.type, visit, chair: null, cause: said.cause };
      case 'AnswerTingles':
        return { type: said.type, visit, answer: said.answer };
      case 'OfferHead':
        return { type: said.type, visit, to: said.to };
      case 'AnswerOffer':
        return { type: said.type, visit, accept: said.accept };
      default:
        return { type: said.type, visit };
    }
  }
}

const inMs = (seconds: number | null) => (seconds === null ? null : seconds * 1000);

/** Plays a written sequence. */
export function replay(turns: readonly Turn[], core: Core = trueCore): Difference | null {
  const duel = new Duel(core);
  for (const [number, turn] of turns.entries()) {
    const difference = duel.play(turn, number);
    if (difference !== null) return difference;
  }
  return null;
}

/** Rolls and plays one sequence; returns its turns when the sides part. */
export function playSeed(
  seed: number,
  core: Core,
  coverage: Coverage,
): { turns: Turn[]; difference: Difference } | null {
  const roll = dice(seed);
  const duel = new Duel(core);
  const length = 1 + Math.floor(roll() * 60);
  const turns: Turn[] = [];
  coverage.sequences += 1;
  for (let number = 0; number < length; number += 1) {
    const turn = rollTurn(roll, duel.head);
    const pair = `${duel.state} × ${nameOf(turn.said)}`;
    turns.push(turn);
    coverage.commands += 1;
    coverage.pairs.set(pair, (coverage.pairs.get(pair) ?? 0) + 1);
    const difference = duel.play(turn, number);
    if (difference !== null) return { turns, difference };
    if (duel.answer === 'done') coverage.done += 1;
  }
  return null;
}

/** Leaves out turns, then waits, as long as the sides still part. */
export function shrink(turns: readonly Turn[], core: Core): Turn[] {
  let least = [...turns];
  const about = replay(turns, core)?.what.replace(/\d+/, '');
  const parts = (candidate: readonly Turn[]) => replay(candidate, core)?.what.replace(/\d+/, '') === about;
  for (let again = true; again;) {
    again = false;
    for (let index = least.length - 1; index >= 0; index -= 1) {
      const without = least.filter((_, one) => one !== index);
      if (parts(without)) {
        least = without;
        again = true;
      }
    }
  }
  for (const [index, turn] of least.entries()) {
    for (const simpler of [
      { ...turn, wait: 0 },
      { ...turn, behind: 0 },
    ]) {
      const candidate = least.map((one, at) => (at === index ? { ...simpler } : one));
      if (parts(candidate)) least = candidate;
    }
  }
  return least;
}

export function described(turns: readonly Turn[], difference: Difference | null): string {
  const lines = turns.map(({ wait, said, behind, named }) => {
    const sender = behind === null ? 'saw none' : behind === 0 ? 'saw all' : `${String(behind)} behind`;
    return `  +${String(wait)} s ${JSON.stringify(said)} ${sender}${named ? '' : ', by chair'}`;
  });
  return [
    `${difference?.what ?? ''}: model ${JSON.stringify(difference?.model)}, core ${JSON.stringify(difference?.core)}`,
    ...lines,
  ].join('\n');
}

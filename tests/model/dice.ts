import { productOn, stages, type Cause, type Head, type Stage } from './machine/head.ts';
import type { Said, SaidType } from './machine/said.ts';
import { offers } from './salon-kit.ts';

type WithoutSeen<T> = T extends unknown ? Omit<T, 'seen'> : never;

/** One turn of a sequence, as it can be written down and played again. */
export interface Turn {
  /** Seconds that pass before it is said. */
  wait: number;
  said: WithoutSeen<Said>;
  /** How many acts behind the sender was; null: it had seen none. */
  behind: number | null;
  /** Whether the visit is named, or just the chair. */
  named: boolean;
}

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain). */
export function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

type Roll = () => number;
const pick = <T>(roll: Roll, from: readonly T[]): T => {
  const one = from[Math.floor(roll() * from.length)];
  if (one === undefined) throw new Error('nothing to pick from');
  return one;
};

/** Every command, "done, next" once per stage it can name. */
export const commandNames = [
  'SeatVisit',
  'BeginApplication',
  'MarkPartDone',
  'SayPrep',
  'JoinAsHelper',
  'LeaveAsHelper',
  'TestStrand',
  'SetHeat',
  'SetLimits',
  'FinishApplication',
  'BeginRinse',
  'NameBasin',
  'ClearAndOff',
  'MarkShampoo',
  'PutNeutralizerOn',
  'TakeRodsOut',
  'MoveOn prep',
  'MoveOn neutralize',
  'MoveOn condition',
  'MoveOn dry',
  'MoveOn finished',
  'MoveTo',
  'Abandon',
  'SettleAbandoned',
  'Discard',
  'ReportBurns',
  'CloseBurns',
  'TakeBell',
  'PassBell',
  'ReportTingles',
  'AnswerTingles',
  'OfferHead',
  'AnswerOffer',
  'TakeBack',
] as const;
export type CommandName = (typeof commandNames)[number];

/** Every state of the machine; neutralize is two different steps under one name (S1). */
export const stateNames = [
  ...stages.filter((stage) => stage !== 'neutralize'),
  'neutralize as shampoos',
  'neutralize as neutralizer',
];

export function nameOf(said: { type: string; to?: string }): string {
  return said.type === 'MoveOn' ? `MoveOn ${said.to ?? ''}` : said.type;
}

/** What usually comes next, so that sequences get far: most rolls are taken from here. */
const usual: Record<Stage, readonly CommandName[]> = {
  none: ['SeatVisit', 'SeatVisit', 'BeginApplication', 'BeginRinse'],
  prep: ['BeginApplication', 'BeginApplication', 'BeginApplication', 'SayPrep', 'SayPrep', 'BeginRinse'],
  apply: [
    'MarkPartDone',
    'MarkPartDone',
    'MarkPartDone',
    'MarkPartDone',
    'MarkPartDone',
    'JoinAsHelper',
    'JoinAsHelper',
    'JoinAsHelper',
    'JoinAsHelper',
    'LeaveAsHelper',
    'LeaveAsHelper',
    'SetHeat',
    'SetLimits',
    'TestStrand',
    'FinishApplication',
    'BeginRinse',
  ],
  process: [
    'BeginRinse',
    'BeginRinse',
    'BeginRinse',
    'TestStrand',
    'TestStrand',
    'SetHeat',
    'MarkPartDone',
    'SetLimits',
    'ClearAndOff',
    'TakeBell',
    'TakeBack',
  ],
  rinse: ['ClearAndOff', 'ClearAndOff', 'ClearAndOff', 'NameBasin', 'CloseBurns', 'BeginRinse'],
  neutralize: [
    'MarkShampoo',
    'MarkShampoo',
    'PutNeutralizerOn',
    'PutNeutralizerOn',
    'TakeRodsOut',
    'BeginRinse',
    'ClearAndOff',
    'MoveOn condition',
    'MoveOn dry',
  ],
  condition: ['MoveOn dry', 'MoveOn neutralize', 'BeginApplication', 'MoveOn prep', 'BeginRinse'],
  dry: ['MoveOn finished', 'SeatVisit', 'BeginRinse', 'BeginApplication'],
  finished: ['SettleAbandoned', 'SeatVisit', 'BeginApplication', 'TakeBack'],
};
const causes: Cause[] = [
  'begun?',
  'pace',
  'test',
  'water-on?',
  'off',
  'neutralizer',
  'water',
  'dwell',
  'back-to-rinse',
  'long-stage',
  'tingles',
  'burns',
  'abandoned',
];

type Unsigned<T> = T extends unknown ? Omit<T, 'by'> : never;
const people = ['person-ama', 'person-ama', 'person-ama', 'person-ama', 'person-joss', 'person-sena', null];
const some = (roll: Roll, from: readonly number[]) => (roll() < 0.5 ? null : 60 * pick(roll, from));

function rollSaid(roll: Roll, head: Head | null, name: CommandName): Unsigned<Turn['said']> {
  const [type, to] = name.split(' ') as [SaidType, Stage | undefined];
  switch (type) {
    case 'SeatVisit':
      return { type, service: Math.floor(roll() * offers.length) };
    case 'BeginApplication':
      return { type, service: roll() < 0.3 ? null : Math.floor(roll() * offers.length), byChair: roll() < 0.3 };
    case 'MarkPartDone':
      return { type, part: roll() < 0.6 ? null : Math.floor(roll() * 5), ago: rollAgo(roll, head) };
    case 'SayPrep':
      return { type, complete: roll() < 0.7 };
    case 'LeaveAsHelper':
      return {
        type,
        person: roll() < 0.5 ? rollThere(roll, head) : pick(roll, [null, null, ...people, 'person-nobody']),
      };
    case 'JoinAsHelper':
      return { type, person: pick(roll, [...people, null, null, 'person-joss', 'person-nobody']) };
    case 'TestStrand':
      return {
        type,
        ready: roll() < 0.3,
        place: pick(roll, ['first', 'last', 'porous']),
        part: roll() < 0.5 ? null : Math.floor(roll() * 5),
      };
    case 'SetHeat':
      return { type, on: roll() < 0.6 };
    case 'SetLimits':
      return {
        type,
        minAfter: some(roll, [0, 3, 5, 8, 10, 12, 200]),
        maxAfter: some(roll, [0, 5, 9, 12, 15, 20]),
        ceiling: some(roll, [0, 12, 18, 22, 26, 28, 40, 50]),
        reason: roll() < 0.5 ? 'as told' : null,
      };
    case 'BeginRinse':
      return { type, basin: roll() < 0.3 };
    case 'MarkShampoo':
      return {
        type,
        indicator: pick(roll, ['colourless', 'coloured', null]),
        strip: pick(roll, [null, null, 6, 7, 8]),
      };
    case 'MoveOn':
      return { type, to: to ?? 'dry' };
    case 'MoveTo':
      return { type, chair: pick(roll, ['free', 'free', 'taken', 'unknown']) };
    case 'ReportBurns':
      return { type, place: pick(roll, ['skin', 'eye']) };
    case 'TakeBell':
    case 'PassBell': {
      const standing = Object.keys(head?.bells ?? {}) as Cause[];
      return { type, cause: standing.length > 0 && roll() < 0.8 ? pick(roll, standing) : pick(roll, causes) };
    }
    case 'AnswerTingles':
      return { type, answer: pick(roll, ['eased', 'mistaken']) };
    case 'OfferHead':
      return { type, to: pick(roll, ['person-ama', 'person-joss', 'person-sena', 'person-nobody']) };
    case 'AnswerOffer':
      return { type, accept: roll() < 0.6 };
    default:
      return { type };
  }
}

/** Somebody who is at the head now. */
function rollThere(roll: Roll, head: Head | null): string | null {
  const there = (head?.passes[head.pass]?.hands ?? []).filter((one) => one.until === null);
  return there.length === 0 ? null : pick(roll, there).by;
}

/** A part told with its time: some minutes ago, the border of half an hour, or the very moment of first touch. */
function rollAgo(roll: Roll, head: Head | null): number | null {
  const begun = head?.passes[head.pass]?.begun ?? null;
  const kind = roll();
  if (kind < 0.7) return null;
  if (kind < 0.9) return 60 * Math.floor(roll() * 12);
  if (kind < 0.95 || begun === null) return 1799 + Math.floor(roll() * 3);
  return 0;
}

/** Mostly whole minutes, so that several instants meet and borders are hit; a second beside them at times. */
function rollWait(roll: Roll): number {
  const kind = roll();
  if (kind < 0.3) return 0;
  if (kind < 0.75) return 60 * Math.ceil(roll() * 6);
  if (kind < 0.85) return 60 * Math.ceil(roll() * 30);
  if (kind < 0.93) return 60 * Math.ceil(roll() * 4) + (roll() < 0.5 ? -1 : 1);
  return Math.ceil(roll() * 400);
}

/** Product that stays on for long is rare in a salon and common here. */
export function rollTurn(roll: Roll, head: Head | null): Turn {
  const stage = head?.stage ?? 'none';
  const name = roll() < 0.6 ? pick(roll, usual[stage]) : pick(roll, commandNames);
  const attentive = roll();
  const behind = attentive < 0.6 ? 0 : attentive < 0.75 ? null : Math.ceil(roll() * 4);
  const long = head !== null && productOn(head) && roll() < 0.1 ? 60 * Math.ceil(roll() * 40) : 0;
  const said = { ...rollSaid(roll, head, name), by: pick(roll, people) } as Turn['said'];
  return { wait: rollWait(roll) + long, said, behind, named: roll() < 0.8 };
}

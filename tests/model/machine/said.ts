import { passOf, stages, type Cause, type Head, type Stage } from './head.ts';
import type { Asked } from './application.ts';

/** What people can say, and who. `seen`: the number of the act that the sender had seen last; null: none. */
export type Said = { seen: number | null; by: string | null } & (
  | { type: 'SeatVisit'; service: number }
  /** `byChair`: whoever sits there, no visit named. */
  | { type: 'BeginApplication'; service: number | null; byChair: boolean }
  /** `ago`: seconds since it was done; null: now. */
  | { type: 'MarkPartDone'; part: number | null; ago: number | null }
  | { type: 'SayPrep'; complete: boolean }
  | { type: 'JoinAsHelper'; person: string | null }
  | { type: 'LeaveAsHelper'; person: string | null }
  | { type: 'TestStrand'; ready: boolean; place: 'first' | 'last' | 'porous'; part: number | null }
  | { type: 'SetHeat'; on: boolean }
  | ({ type: 'SetLimits'; reason: string | null } & Asked)
  | { type: 'BeginRinse'; basin: boolean }
  | { type: 'MarkShampoo'; indicator: 'colourless' | 'coloured' | null; strip: number | null }
  | { type: 'MoveOn'; to: Stage }
  | { type: 'MoveTo'; chair: 'free' | 'taken' | 'unknown' }
  | { type: 'ReportBurns'; place: 'skin' | 'eye' }
  | { type: 'TakeBell'; cause: Cause }
  | { type: 'PassBell'; cause: Cause }
  | { type: 'ReportTingles' }
  | { type: 'AnswerTingles'; answer: 'eased' | 'mistaken' }
  | { type: 'OfferHead'; to: string }
  | { type: 'AnswerOffer'; accept: boolean }
  | { type: 'FinishApplication' | 'NameBasin' | 'ClearAndOff' | 'PutNeutralizerOn' | 'TakeRodsOut' | 'Abandon' }
  | { type: 'SettleAbandoned' | 'Discard' | 'CloseBurns' | 'TakeBack' }
);
export type SaidType = Said['type'];
export type Heard = Said | { type: 'TimePasses'; seconds: number };

/** One line of the table below: under which condition it holds, and the refusal or the act and where it may lead. */
export interface Line<T extends SaidType> {
  when?: (head: Head, said: Extract<Said, { type: T }>, now: number) => boolean;
  refuse?: string;
  to?: readonly Stage[];
  act?: (head: Head, said: Extract<Said, { type: T }>, now: number) => Head;
}
export type Table = { [T in SaidType]?: Line<T>[] };

export const seen = (said: Said, number: number) => said.seen !== null && said.seen >= number;
export const burning = (head: Head) => head.burns?.open === true;
export const burnHolds = { when: burning, refuse: 'does-not-fit' };
export const doesNotFit = { refuse: 'does-not-fit' };
export const alreadyDone = { refuse: 'already-done' };
export const open = stages.filter((stage) => stage !== 'none');
export const here = (stage: Stage) => [stage] as const;
export const isClear = (head: Head) => passOf(head).clear !== null;
export const nowDone = (head: Head, now: number) => ({ at: now, act: head.acts + 1 });

/** Every kind of saying, once. */
export const saidTypes: SaidType[] = [
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
  'MoveOn',
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
];

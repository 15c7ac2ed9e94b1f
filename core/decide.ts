import type { Command, CommandOf, CommandType, Sender } from './command.ts';
import { aheadBelieved, refuse, rememberedFor, type Decision, type Setting } from './decision.ts';
import type { Floor } from './floor.ts';
import { salonDeciders } from './salon/decide-salon.ts';
import type { VisitId } from './ids.ts';
import { wholeSecond, type EpochMs } from './time.ts';
import { joinAsHelper, leaveAsHelper, sayPrep, setHeat, setLimits, testStrand } from './visit/commands/application.ts';
import { beginApplication } from './visit/commands/begin-application.ts';
import { beginRinse } from './visit/commands/begin-rinse.ts';
import { closeBurns, reportBurns } from './visit/commands/burns.ts';
import type { VisitCommand } from './visit/commands/command.ts';
import { chooseService, giveReason, nameStylist, writeLabel } from './visit/commands/particulars.ts';
import { seatVisit } from './visit/commands/seat-visit.ts';
import {
  clearAndOff,
  finishApplication,
  markPartDone,
  markShampoo,
  moveOn,
  nameBasin,
  putNeutralizerOn,
  takeRodsOut,
} from './visit/commands/steps.ts';
import { answerOffer, offerHead } from './visit/commands/hand-over.ts';
import { passBell, takeBell } from './visit/commands/take-bell.ts';
import { answerTingles, reportTingles } from './visit/commands/tingles.ts';
import { isDecision, openVisit, saidTooLate, tooLateToFold } from './visit/commands/visit-lookup.ts';
import { answerUnattended, eraseWords } from './visit/commands/unattended.ts';
import { abandon, discard, moveTo, settleAbandoned } from './visit/commands/whereabouts.ts';
import type { StatedCommand } from './visit/events.ts';
import type { Visit } from './visit/history.ts';
import { correctTime, takeBack } from './visit/corrections.ts';

export type { Decision } from './decision.ts';

/** Commands that are about one visit and nothing without it. */
type AboutVisit = Extract<VisitCommand, { readonly visit: VisitId; readonly type: StatedCommand }>;

/** A step at an open visit; said too late it is kept as a statement (X3). */
function step<T extends AboutVisit['type']>(
  type: T,
  judge: (setting: Setting, visit: Visit, command: Extract<AboutVisit, { type: T }>) => Decision,
) {
  return (setting: Setting, command: Extract<AboutVisit, { type: T }> & { readonly visit: VisitId }): Decision => {
    const visit = openVisit(setting, command.visit);
    if (isDecision(visit)) return saidTooLate(setting, command.visit, type) ?? visit;
    return tooLateToFold(setting, visit, type) ?? judge(setting, visit, command);
  };
}

/** What each command is judged by. */
const deciders = {
  ...salonDeciders,
  SeatVisit: seatVisit,
  ChooseService: step('ChooseService', chooseService),
  NameStylist: step('NameStylist', nameStylist),
  WriteLabel: step('WriteLabel', writeLabel),
  BeginApplication: beginApplication,
  MarkPartDone: step('MarkPartDone', markPartDone),
  FinishApplication: step('FinishApplication', finishApplication),
  SayPrep: step('SayPrep', sayPrep),
  JoinAsHelper: step('JoinAsHelper', joinAsHelper),
  LeaveAsHelper: step('LeaveAsHelper', leaveAsHelper),
  TestStrand: step('TestStrand', testStrand),
  SetHeat: step('SetHeat', setHeat),
  SetLimits: step('SetLimits', setLimits),
  BeginRinse: beginRinse,
  NameBasin: step('NameBasin', nameBasin),
  ClearAndOff: step('ClearAndOff', clearAndOff),
  MarkShampoo: step('MarkShampoo', markShampoo),
  PutNeutralizerOn: step('PutNeutralizerOn', putNeutralizerOn),
  TakeRodsOut: step('TakeRodsOut', takeRodsOut),
  MoveOn: step('MoveOn', moveOn),
  MoveTo: step('MoveTo', moveTo),
  Abandon: step('Abandon', abandon),
  SettleAbandoned: settleAbandoned,
  Discard: step('Discard', discard),
  ReportBurns: reportBurns,
  CloseBurns: closeBurns,
  TakeBell: takeBell,
  PassBell: passBell,
  ReportTingles: step('ReportTingles', reportTingles),
  AnswerTingles: step('AnswerTingles', answerTingles),
  OfferHead: step('OfferHead', offerHead),
  AnswerOffer: step('AnswerOffer', answerOffer),
  CorrectTime: correctTime,
  TakeBack: takeBack,
  GiveReason: giveReason,
  AnswerUnattended: step('AnswerUnattended', answerUnattended),
  EraseWords: eraseWords,
} as const satisfies { [T in CommandType]: (setting: Setting, command: CommandOf<T>) => Decision };

/** Commands that no clock of a sender may hold up: whatever time they name, they are folded in (X3). */
const neverHeldUp: readonly CommandType[] = ['BeginRinse', 'ReportBurns'];

/** Which events follow from a command, and what its sender is answered. Pure; refusals are values. */
export function decide(floor: Floor, command: Command, sender: Sender, now: EpochMs): Decision {
  const { happenedAt } = sender;
  const unhindered = neverHeldUp.includes(command.type);
  if (sender.by !== null && floor.people[sender.by] === undefined && !unhindered)
    return refuse('unknown-person', { field: 'by' });
  if (happenedAt !== null && !unhindered) {
    if (happenedAt > now + aheadBelieved) return refuse('time-in-future', { field: 'happenedAt' });
    if (happenedAt < now - rememberedFor) return refuse('time-too-old', { field: 'happenedAt' });
  }
  const at = wholeSecond(happenedAt === null ? now : Math.min(now, Math.max(happenedAt, now - rememberedFor)));
  const judge = deciders[command.type] as (setting: Setting, command: Command) => Decision;
  return judge({ floor, sender: knownSender(floor, sender), now, at }, command);
}

/** A person unknown here does not stand between a client and the water: the event then names nobody. */
function knownSender(floor: Floor, sender: Sender): Sender {
  return sender.by !== null && floor.people[sender.by] === undefined ? { ...sender, by: null } : sender;
}

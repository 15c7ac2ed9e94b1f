import { z } from 'zod';
import { wordLimits } from '../protocol.ts';
import { id, instant, orNull, placeNumber, span, word } from './basics.ts';
import { bellCause } from './bells.ts';
import { rules, stageLimit } from './directions.ts';
import { figures, hourCycle, placeKind, role, room, wallSize } from './salon.ts';
import {
  burnsEnd,
  burnsPlace,
  indicator,
  owedItem,
  owedReason,
  partIndex,
  strandPlace,
  strandResult,
  strip,
  version,
} from './visit.ts';

/** Every command carries these beside its own fields; all but the id may be left out. */
const sender = {
  id,
  by: orNull(id),
  device: orNull(id),
  seen: orNull(z.int().min(0)),
  happenedAt: orNull(instant),
};

const command = <T extends string, P extends z.ZodRawShape>(type: T, payload: P) =>
  z.strictObject({ ...sender, type: z.literal(type), ...payload });

const visit = id;
const chair = placeNumber;
const name = word(wordLimits.name);
const label = word(wordLimits.placeLabel);
const clientLabel = orNull(word(wordLimits.visitLabel));
const reason = orNull(word(wordLimits.note));
const roles = z.array(role).max(6);

const salonCommands = [
  command('SetUpSalon', {
    name,
    zone: z.string().min(1).max(64),
    language: z.string().min(2).max(35),
    hourCycle,
    demonstration: z.boolean().default(false),
  }),
  command('AddPlace', { kind: placeKind, number: placeNumber, label }),
  command('RelabelPlace', { number: placeNumber, label }),
  command('RetirePlace', { number: placeNumber }),
  command('AddPerson', { name, roles }),
  command('ChangePerson', { person: id, name, roles }),
  command('RetirePerson', { person: id }),
  command('WriteDirections', { directions: orNull(id), name, source: word(wordLimits.source), rules }),
  command('RetireDirections', { directions: id }),
  command('WriteService', {
    service: orNull(id),
    name,
    passes: z.array(id).min(1).max(6),
    limits: z.array(stageLimit).max(8),
  }),
  command('RetireService', { service: id }),
  command('ChooseUsualService', { service: id }),
  command('SetFigures', { figures }),
  command('SetWall', { wall: wallSize }),
  command('SetRoom', { room }),
  command('SetPush', { on: z.boolean(), contact: z.string().trim().max(wordLimits.note) }),
  command('BeginShift', { person: id }),
  command('EndShift', { person: id }),
  command('GoAway', { person: id, forMs: span, cover: orNull(id) }),
  command('ComeBack', { person: id }),
  command('AskHelp', { chair: placeNumber }),
  command('EndHelp', { chair: placeNumber, how: z.enum(['here', 'no-longer']) }),
  command('ConfirmTime', { awayMs: span }),
] as const;

const visitCommands = [
  command('SeatVisit', { chair, service: orNull(id), stylist: orNull(id), label: clientLabel }),
  command('ChooseService', { visit, service: id }),
  command('NameStylist', { visit, stylist: orNull(id) }),
  command('WriteLabel', { visit, label: clientLabel }),
  command('BeginApplication', { chair, visit: orNull(visit), service: orNull(id) }),
  command('MarkPartDone', { visit, part: orNull(partIndex) }),
  command('FinishApplication', { visit }),
  command('SayPrep', { visit, complete: z.boolean() }),
  command('JoinAsHelper', { visit, person: orNull(id) }),
  command('LeaveAsHelper', { visit, person: orNull(id) }),
  command('TestStrand', {
    visit,
    place: strandPlace,
    result: strandResult,
    part: orNull(partIndex),
    note: reason,
  }),
  command('SetHeat', { visit, on: z.boolean() }),
  command('SetLimits', {
    visit,
    minAfterMs: orNull(span),
    maxAfterMs: orNull(span),
    ceilingMs: orNull(span),
    reason,
  }),
  command('BeginRinse', { chair, visit: orNull(visit), basin: orNull(placeNumber) }),
  command('NameBasin', { visit, basin: placeNumber }),
  command('ClearAndOff', { visit }),
  command('MarkShampoo', { visit, indicator: orNull(indicator), strip: orNull(strip) }),
  command('PutNeutralizerOn', { visit }),
  command('TakeRodsOut', { visit }),
  command('MoveOn', { visit, to: z.enum(['prep', 'neutralize', 'condition', 'dry', 'finished']) }),
  command('MoveTo', { visit, chair }),
  command('Abandon', { visit }),
  command('SettleAbandoned', { visit }),
  command('Discard', { visit }),
  command('ReportBurns', { chair, visit: orNull(visit), place: burnsPlace }),
  command('CloseBurns', { visit, done: burnsEnd }),
  command('TakeBell', { visit: orNull(visit), chair: orNull(chair), cause: bellCause }),
  command('PassBell', { visit: orNull(visit), chair: orNull(chair), cause: bellCause }),
  command('ReportTingles', { visit }),
  command('AnswerTingles', { visit, answer: z.enum(['eased', 'mistaken']) }),
  command('OfferHead', { visit, to: id }),
  command('AnswerOffer', { visit, accept: z.boolean() }),
  command('CorrectTime', { visit, of: version, to: instant, reason }),
  command('TakeBack', { visit }),
  command('AnswerUnattended', { visit, there: z.boolean() }),
  command('EraseWords', { visit }),
  command('GiveReason', { visit, version, item: owedItem, reason: owedReason, note: reason }),
] as const;

/** Body of `POST /api/v1/commands`: one flat object, and no field that the command does not have. */
export const commandRequest = z.discriminatedUnion('type', [...salonCommands, ...visitCommands]);

import { z } from 'zod';
import { id, instant, placeNumber, span } from './basics.ts';
import { bellCause, bellEnd, bellKind, bellLevel, circle, episode, widenReason } from './bells.ts';
import { rules, stage, stageLimit } from './directions.ts';
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
  tinglesAnswer,
  version,
  visitEnd,
  visitFacts,
} from './visit.ts';

const event = <T extends string, P extends z.ZodRawShape>(type: T, payload: P) =>
  z.strictObject({ type: z.literal(type), ...payload });

const statedCommand = z.enum([
  'ChooseService',
  'NameStylist',
  'WriteLabel',
  'BeginApplication',
  'MarkPartDone',
  'FinishApplication',
  'NameBasin',
  'ClearAndOff',
  'MarkShampoo',
  'PutNeutralizerOn',
  'TakeRodsOut',
  'MoveOn',
  'MoveTo',
  'Abandon',
  'Discard',
  'CloseBurns',
  'SayPrep',
  'JoinAsHelper',
  'LeaveAsHelper',
  'TestStrand',
  'SetHeat',
  'SetLimits',
  'AnswerUnattended',
  'ReportTingles',
  'AnswerTingles',
  'OfferHead',
  'AnswerOffer',
]);
const passIndex = z.int().min(0);
const plans = {
  passes: z.array(z.strictObject({ directions: id.nullable(), version: version.nullable(), rules: rules.nullable() })),
  limits: z.array(stageLimit),
};
const owed = z.array(z.strictObject({ item: owedItem, stage, pass: passIndex }));
const onward = { to: stage, toPass: passIndex, owed };
const rung = {
  cause: bellCause,
  kind: bellKind,
  level: bellLevel,
  episode,
  dueAt: instant,
  circle,
  helper: id.nullable(),
};
const widened = { cause: bellCause, episode, circle, why: widenReason };
const receipt = { cause: bellCause, episode, level: bellLevel, person: id };
const chair = placeNumber.nullable();

export const visitEvent = z.discriminatedUnion('type', [
  event('VisitSeated', {
    chair: placeNumber,
    service: id.nullable(),
    stylist: id.nullable(),
    ...plans,
    after: id.nullable(),
  }),
  event('ServiceChosen', { service: id, ...plans }),
  event('StylistNamed', { stylist: id.nullable() }),
  event('LabelWritten', {}),
  event('ApplicationBegun', { pass: passIndex, owed }),
  event('PartMarkedDone', { part: partIndex }),
  event('ApplicationFinished', {}),
  event('PrepSaid', { complete: z.boolean() }),
  event('HelperJoined', { person: id.nullable() }),
  event('HelperLeft', { person: id.nullable() }),
  event('StrandTested', { place: strandPlace, result: strandResult, part: partIndex.nullable() }),
  event('HeatSet', { on: z.boolean() }),
  event('LimitsSet', {
    minAfterMs: span.nullable(),
    maxAfterMs: span.nullable(),
    ceilingMs: span.nullable(),
    raised: z.boolean(),
  }),
  event('RinseBegun', { basin: placeNumber.nullable(), owed }),
  event('BasinNamed', { basin: placeNumber }),
  event('WentClear', onward),
  event('ShampooMarked', { indicator: indicator.nullable(), strip: strip.nullable() }),
  event('NeutralizerPutOn', {}),
  event('RodsTakenOut', {}),
  event('MovedOn', onward),
  event('VisitEnded', { end: visitEnd, owed }),
  event('MovedTo', { chair: placeNumber }),
  event('BurnsReported', { place: burnsPlace }),
  event('BurnsClosed', { done: burnsEnd }),
  event('AbandonedSettled', {}),
  event('TinglesReported', {}),
  event('TinglesAnswered', { answer: tinglesAnswer }),
  event('HeadOffered', { to: id }),
  event('OfferAnswered', { accepted: z.boolean() }),
  event('ReasonGiven', { version, item: owedItem, reason: owedReason }),
  event('TimeCorrected', { of: version, was: instant, to: instant, bought: z.boolean(), reasoned: z.boolean() }),
  event('MoveTakenBack', { versions: z.array(version) }),
  event('StatementKept', { command: statedCommand }),
  event('AttendedSaid', {}),
  event('WordsErased', {}),
  event('TimeLost', {}),
  event('TimeFound', { fromAt: instant, byMs: span }),
  event('BellRung', rung),
  event('BellWidened', widened),
  event('BellTaken', { cause: bellCause }),
  event('BellPassed', { cause: bellCause }),
  z.strictObject({ type: z.enum(['BellShown', 'BellNotReached']), ...receipt }),
  event('BellEnded', { cause: bellCause, episode, why: bellEnd }),
]);

export const salonEvent = z.discriminatedUnion('type', [
  event('SalonSetUp', { zone: z.string(), language: z.string(), hourCycle, demonstration: z.boolean() }),
  event('PlaceAdded', { number: placeNumber, kind: placeKind }),
  event('PlaceRelabelled', { number: placeNumber }),
  event('PlaceRetired', { number: placeNumber }),
  event('FiguresSet', { figures }),
  event('WallSet', { wall: wallSize }),
  event('RoomSet', { room }),
  event('PushSet', { on: z.boolean() }),
  event('HelpAsked', { chair: placeNumber }),
  event('HelpEnded', { chair: placeNumber, how: z.enum(['here', 'no-longer']) }),
  event('CivilStepped', { offsetMs: z.int() }),
  event('TimescaleTaken', {}),
  event('GapSeen', { fromAt: instant, why: z.enum(['slept', 'restarted', 'rebooted']) }),
  event('TimeBecameUncertain', { aliveAt: instant.nullable(), timescale: z.string().nullable() }),
  event('TimeConfirmed', { fromAt: instant, byMs: span }),
  event('FloorBellRung', { chair, ...rung }),
  event('FloorBellWidened', { chair, ...widened }),
  event('FloorBellTaken', { chair, cause: bellCause }),
  event('FloorBellPassed', { chair, cause: bellCause }),
  z.strictObject({ type: z.enum(['FloorBellShown', 'FloorBellNotReached']), chair, ...receipt }),
  event('FloorBellEnded', { chair, cause: bellCause, episode, why: bellEnd }),
]);

export const peopleEvent = z.discriminatedUnion('type', [
  event('PersonAdded', { person: id, roles: z.array(role) }),
  event('PersonChanged', { person: id, roles: z.array(role) }),
  event('PersonRetired', { person: id }),
  event('ShiftBegun', { person: id }),
  event('ShiftEnded', { person: id }),
  event('WentAway', { person: id, untilAt: instant, cover: id.nullable() }),
  event('CameBack', { person: id }),
]);

export const directionsEvent = z.discriminatedUnion('type', [
  event('DirectionsWritten', { directions: id, version, rules, copiedBy: id.nullable() }),
  event('DirectionsRetired', { directions: id }),
  event('ServiceWritten', { service: id, passes: z.array(id), limits: z.array(stageLimit) }),
  event('ServiceRetired', { service: id }),
  event('UsualServiceChosen', { service: id }),
]);

/** An event with its place in the log, as `GET /api/v1/visits/:id` tells it. */
export const recordedOfVisit = z.strictObject({
  seq: z.int().min(1),
  stream: z.templateLiteral(['visit/', z.string()]),
  version,
  at: instant,
  recordedAt: instant,
  by: id.nullable(),
  device: id.nullable(),
  command: id.nullable(),
  event: visitEvent,
});

export const visitRecord = z.strictObject({
  facts: visitFacts,
  words: z.record(z.string(), z.string()),
  events: z.array(recordedOfVisit),
});

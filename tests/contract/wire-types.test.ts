import { expect, test } from 'vitest';
import type { z } from 'zod';
import type { Command } from '../../core/command.ts';
import {
  bellCauses,
  bellEnds,
  bellKinds,
  circles,
  widenReasons,
  type Bell,
  type Circle,
  type WidenReason,
} from '../../core/bells/bell.ts';
import { bellLevels } from '../../core/bells/level.ts';
import type { BellMeant } from '../../core/bells/receipts.ts';
import type { Directions, Service } from '../../core/directions/directions.ts';
import { partPlaces, type Rules } from '../../core/directions/rules.ts';
import { productClasses } from '../../core/directions/product-class.ts';
import type { DirectionsEvent, PeopleEvent, SalonEvent } from '../../core/events.ts';
import type { FloorBells, Gap } from '../../core/floor.ts';
import { helpEnds } from '../../core/salon/commands.ts';
import type { Room } from '../../core/salon/room.ts';
import { placeKinds, roles, type Figures, type Person, type Place, type Salon } from '../../core/salon/salon.ts';
import { moveOnTargets } from '../../core/visit/commands/command.ts';
import type { VisitEvent } from '../../core/visit/events.ts';
import { stages } from '../../core/visit/stages/stage.ts';
import {
  burnsEnds,
  owedItems,
  owedReasons,
  strandPlaces,
  tinglesAnswers,
  visitEnds,
  type TinglesAnswer,
  type VisitFacts,
} from '../../core/visit/visit.ts';
import type { Problem } from '../../shared/problem.ts';
import * as bells from '../../shared/schemas/bells.ts';
import { commandRequest } from '../../shared/schemas/commands.ts';
import * as directions from '../../shared/schemas/directions.ts';
import type * as events from '../../shared/schemas/events.ts';
import type { problem } from '../../shared/schemas/problem.ts';
import * as salon from '../../shared/schemas/salon.ts';
import * as visit from '../../shared/schemas/visit.ts';
import * as wire from '../../shared/schemas/wire.ts';
import {
  screenKinds,
  soundKinds,
  type Here,
  type JoinRequest,
  type KeptTime,
  type ShownBells,
  type TestBell,
} from '../../shared/socket-events.ts';
import {
  reachKinds,
  type About,
  type BackupsTold,
  type ClockStamps,
  type CommandRequest,
  type FloorEntity,
  type HandTurn,
  type Heartbeat,
  type Push,
  type ReachTold,
  type Readiness,
  type Snapshot,
  type VisitRecord,
  type WireAnswer,
} from '../../shared/wire.ts';

/** Schemas are mutable where the trade's types are readonly; that, and how an intersection is written, is no difference. */
type Plain<T> = T extends string | number | boolean | null | undefined
  ? T
  : T extends readonly (infer E)[]
    ? Plain<E>[]
    : { -readonly [K in keyof T]: Plain<T[K]> };
type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;
type Equal<S extends z.ZodType, T> = Same<Plain<z.infer<S>>, Plain<T>>;

/** Does not compile unless every entry is true: `npm run types` is where this test fails. */
const facts = {
  salon: true satisfies Equal<typeof salon.salon, Salon>,
  figures: true satisfies Equal<typeof salon.figures, Figures>,
  place: true satisfies Equal<typeof salon.place, Place>,
  person: true satisfies Equal<typeof salon.person, Person>,
  service: true satisfies Equal<typeof directions.service, Service>,
  directions: true satisfies Equal<typeof directions.directions, Directions>,
  rules: true satisfies Equal<typeof directions.rules, Rules>,
  bell: true satisfies Equal<typeof bells.bell, Bell>,
  floorBells: true satisfies Equal<typeof bells.floorBells, FloorBells>,
  gap: true satisfies Equal<typeof bells.gap, Gap>,
  circle: true satisfies Equal<typeof bells.circle, Circle>,
  widenReason: true satisfies Equal<typeof bells.widenReason, WidenReason>,
  room: true satisfies Equal<typeof salon.room, Room>,
  tinglesAnswer: true satisfies Equal<typeof visit.tinglesAnswer, TinglesAnswer>,
  visitFacts: true satisfies Equal<typeof visit.visitFacts, VisitFacts>,
  visitEvent: true satisfies Equal<typeof events.visitEvent, VisitEvent>,
  salonEvent: true satisfies Equal<typeof events.salonEvent, SalonEvent>,
  peopleEvent: true satisfies Equal<typeof events.peopleEvent, PeopleEvent>,
  directionsEvent: true satisfies Equal<typeof events.directionsEvent, DirectionsEvent>,
  command: true satisfies Equal<typeof commandRequest, CommandRequest>,
};

const messages = {
  about: true satisfies Equal<typeof wire.about, About>,
  backups: true satisfies Equal<typeof wire.backupsTold, BackupsTold | null>,
  entity: true satisfies Equal<typeof wire.floorEntity, FloorEntity>,
  snapshot: true satisfies Equal<typeof wire.snapshot, Snapshot>,
  push: true satisfies Equal<typeof wire.push, Push>,
  heartbeat: true satisfies Equal<typeof wire.heartbeat, Heartbeat>,
  clockStamps: true satisfies Equal<typeof wire.clockStamps, ClockStamps>,
  join: true satisfies Equal<typeof wire.joinRequest, JoinRequest>,
  testBell: true satisfies Equal<typeof wire.testBell, TestBell>,
  keptTime: true satisfies Equal<typeof wire.keptTime, KeptTime>,
  here: true satisfies Equal<typeof wire.here, Here>,
  bellMeant: true satisfies Equal<typeof wire.bellMeant, BellMeant>,
  shownBells: true satisfies Equal<typeof wire.shownBells, ShownBells>,
  reachTold: true satisfies Equal<typeof wire.reachTold, ReachTold>,
  answer: true satisfies Equal<typeof wire.wireAnswer, WireAnswer>,
  handTurn: true satisfies Equal<typeof wire.handTurn, HandTurn>,
  readiness: true satisfies Equal<typeof wire.readiness, Readiness>,
  visitRecord: true satisfies Equal<typeof events.visitRecord, VisitRecord>,
  problem: true satisfies Equal<typeof problem, Problem>,
};

test('[S7] every wire schema of a fact is the type the trade works with', () => {
  expect(Object.values({ ...facts, ...messages }).every(Boolean)).toBe(true);
});

test('[S1] the closed lists on the wire are those of the trade, in the same order', () => {
  expect(directions.stage.options).toEqual(stages);
  expect(directions.productClass.options).toEqual(productClasses);
  expect(directions.partPlace.options).toEqual(partPlaces);
  expect(salon.role.options).toEqual(roles);
  expect(salon.placeKind.options).toEqual(placeKinds);
  expect(bells.bellLevel.options).toEqual(bellLevels);
  expect(bells.bellKind.options).toEqual(bellKinds);
  expect(bells.bellCause.options).toEqual(bellCauses);
  expect(bells.bellEnd.options).toEqual(bellEnds);
  expect(visit.strandPlace.options).toEqual(strandPlaces);
  expect(visit.owedItem.options).toEqual(owedItems);
  expect(visit.owedReason.options).toEqual(owedReasons);
  expect(visit.burnsEnd.options).toEqual(burnsEnds);
  expect(visit.visitEnd.options).toEqual(visitEnds);
  expect(bells.circle.options.map(({ value }) => value)).toEqual(circles);
  expect(bells.widenReason.options).toEqual(widenReasons);
  expect(visit.tinglesAnswer.options).toEqual(tinglesAnswers);
  expect(wire.here.shape.screen.options).toEqual(screenKinds);
  expect(wire.here.shape.sound.options).toEqual(soundKinds);
  expect(wire.reachTold.shape.people.element.shape.how.options).toEqual(reachKinds);
  const moveOn = commandRequest.options.find((one) => one.shape.type.value === 'MoveOn');
  expect(moveOn?.shape).toHaveProperty('to');
  const to = (moveOn?.shape as { to: z.ZodEnum }).to;
  expect(to.options).toEqual(moveOnTargets);
  const endHelp = commandRequest.options.find((one) => one.shape.type.value === 'EndHelp');
  expect((endHelp?.shape as { how: z.ZodEnum }).how.options).toEqual(helpEnds);
});

test('[S8] there is one request schema per command', () => {
  const every = {
    SetUpSalon: 1,
    AddPlace: 1,
    RelabelPlace: 1,
    RetirePlace: 1,
    AddPerson: 1,
    ChangePerson: 1,
    RetirePerson: 1,
    WriteDirections: 1,
    RetireDirections: 1,
    WriteService: 1,
    RetireService: 1,
    ChooseUsualService: 1,
    SetFigures: 1,
    SetWall: 1,
    SetRoom: 1,
    SetPush: 1,
    BeginShift: 1,
    EndShift: 1,
    GoAway: 1,
    ComeBack: 1,
    AskHelp: 1,
    EndHelp: 1,
    SeatVisit: 1,
    ChooseService: 1,
    NameStylist: 1,
    WriteLabel: 1,
    BeginApplication: 1,
    MarkPartDone: 1,
    FinishApplication: 1,
    SayPrep: 1,
    JoinAsHelper: 1,
    LeaveAsHelper: 1,
    TestStrand: 1,
    SetHeat: 1,
    SetLimits: 1,
    BeginRinse: 1,
    NameBasin: 1,
    ClearAndOff: 1,
    MarkShampoo: 1,
    PutNeutralizerOn: 1,
    TakeRodsOut: 1,
    MoveOn: 1,
    MoveTo: 1,
    Abandon: 1,
    SettleAbandoned: 1,
    Discard: 1,
    ReportBurns: 1,
    CloseBurns: 1,
    TakeBell: 1,
    PassBell: 1,
    ReportTingles: 1,
    AnswerTingles: 1,
    OfferHead: 1,
    AnswerOffer: 1,
    CorrectTime: 1,
    TakeBack: 1,
    GiveReason: 1,
    AnswerUnattended: 1,
    EraseWords: 1,
    ConfirmTime: 1,
  } satisfies Record<Command['type'], 1>;
  expect(commandRequest.options.map((one) => one.shape.type.value).sort()).toEqual(Object.keys(every).sort());
});

import { describe, expect, test } from 'vitest';
import type { FloorEvent, FloorEventType, Recorded, Stream } from '../../core/events.ts';
import { defaultRoom } from '../../core/salon/room.ts';
import { defaultFigures } from '../../core/salon/salon.ts';
import { MINUTE } from '../../core/time.ts';
import type { PassPlan } from '../../core/visit/events.ts';
import { recordedOf, rowOf } from '../../server/store/event-rows.ts';
import { eventTypes, upcast, type StoredBody } from '../../server/store/upcast.ts';
import { directionsEvent, peopleEvent, salonEvent, visitEvent } from '../../shared/schemas/events.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { freeTextIn } from '../support/free-text.ts';
import golden from './golden-events.json' with { type: 'json' };

const perm = relaxer({
  class: 'thio',
  minTotalMs: 20 * MINUTE,
  manner: 'by-part',
  parts: [
    { place: 'hairline', share: 0.4, ceilingMs: 12 * MINUTE },
    { place: 'other', share: 0.6, ceilingMs: null },
  ],
  finishing: [
    { kind: 'neutralizer', minAfterMs: 5 * MINUTE, maxAfterMs: 8 * MINUTE, rinseMs: 3 * MINUTE, rods: true },
    { kind: 'condition', dwellMs: 2 * MINUTE },
  ],
  heat: 'allowed',
  underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 9 * MINUTE, ceilingMs: null },
  headsPerContainer: null,
  washAfterHours: null,
  colourAfterDays: null,
});
const passes: readonly PassPlan[] = [
  { directions: 'directions-1', version: 2, rules: relaxer() },
  { directions: 'directions-2', version: 1, rules: perm },
  { directions: null, version: null, rules: null },
];
const limits = [{ stage: 'prep', limitMs: 20 * MINUTE }] as const;
const owed = [{ item: 'rinse-short', stage: 'rinse', pass: 0 }] as const;
const rung = { level: 'WARNING', episode: 2, dueAt: NOON + 27 * MINUTE, circle: 1, helper: 'person-joss' } as const;
const receipt = { episode: 2, level: 'WARNING', person: 'person-ama' } as const;
const onFloor = { chair: null, cause: 'not-saved' } as const;
const atChair = { chair: 4, cause: 'help' } as const;

/** Events of one kind, also where two kinds are written down as one. */
type OneOf<T extends FloorEventType> = FloorEvent extends infer E
  ? E extends { readonly type: infer K }
    ? T extends K
      ? Omit<E, 'type'> & { readonly type: T }
      : never
    : never
  : never;

/** One event of every kind, as written today. */
const today = {
  SalonSetUp: {
    type: 'SalonSetUp',
    zone: 'America/Argentina/Buenos_Aires',
    language: 'en-GB',
    hourCycle: 'h23',
    demonstration: true,
  },
  PlaceAdded: { type: 'PlaceAdded', number: 91, kind: 'basin' },
  PlaceRelabelled: { type: 'PlaceRelabelled', number: 4 },
  PlaceRetired: { type: 'PlaceRetired', number: 4 },
  FiguresSet: { type: 'FiguresSet', figures: defaultFigures },
  WallSet: { type: 'WallSet', wall: { diagonalIn: 43, distanceM: 5.5 } },
  RoomSet: { type: 'RoomSet', room: { ...defaultRoom, spoken: true } },
  PushSet: { type: 'PushSet', on: true },
  HelpAsked: { type: 'HelpAsked', chair: 4 },
  HelpEnded: { type: 'HelpEnded', chair: 4, how: 'here' },
  CivilStepped: { type: 'CivilStepped', offsetMs: -3_600_000 },
  TimescaleTaken: { type: 'TimescaleTaken' },
  GapSeen: { type: 'GapSeen', fromAt: NOON, why: 'rebooted' },
  TimeBecameUncertain: { type: 'TimeBecameUncertain', aliveAt: NOON, timescale: 'timescale-before' },
  TimeConfirmed: { type: 'TimeConfirmed', fromAt: NOON, byMs: 4 * MINUTE },
  FloorBellRung: { type: 'FloorBellRung', ...onFloor, kind: 'not-saved', ...rung, circle: 2, helper: null },
  FloorBellWidened: { type: 'FloorBellWidened', ...atChair, episode: 2, circle: 2, why: 'untaken' },
  FloorBellTaken: { type: 'FloorBellTaken', chair: null, cause: 'time-uncertain' },
  FloorBellPassed: { type: 'FloorBellPassed', ...atChair },
  FloorBellShown: { type: 'FloorBellShown', ...atChair, ...receipt },
  FloorBellNotReached: { type: 'FloorBellNotReached', ...onFloor, ...receipt },
  FloorBellEnded: { type: 'FloorBellEnded', ...onFloor, episode: 2, why: 'cleared' },
  PersonAdded: { type: 'PersonAdded', person: 'person-ama', roles: ['stylist', 'senior'] },
  PersonChanged: { type: 'PersonChanged', person: 'person-ama', roles: [] },
  PersonRetired: { type: 'PersonRetired', person: 'person-ama' },
  ShiftBegun: { type: 'ShiftBegun', person: 'person-ama' },
  ShiftEnded: { type: 'ShiftEnded', person: 'person-ama' },
  WentAway: { type: 'WentAway', person: 'person-ama', untilAt: NOON + 20 * MINUTE, cover: 'person-joss' },
  CameBack: { type: 'CameBack', person: 'person-ama' },
  DirectionsWritten: {
    type: 'DirectionsWritten',
    directions: 'directions-1',
    version: 2,
    rules: relaxer(),
    copiedBy: 'person-ama',
  },
  DirectionsRetired: { type: 'DirectionsRetired', directions: 'directions-1' },
  ServiceWritten: { type: 'ServiceWritten', service: 'service-1', passes: ['directions-1', 'directions-2'], limits },
  ServiceRetired: { type: 'ServiceRetired', service: 'service-1' },
  UsualServiceChosen: { type: 'UsualServiceChosen', service: 'service-1' },
  VisitSeated: {
    type: 'VisitSeated',
    chair: 6,
    service: 'service-1',
    stylist: 'person-ama',
    passes,
    limits,
    after: 'visit-before',
  },
  ServiceChosen: { type: 'ServiceChosen', service: 'service-1', passes, limits },
  StylistNamed: { type: 'StylistNamed', stylist: null },
  LabelWritten: { type: 'LabelWritten' },
  ApplicationBegun: { type: 'ApplicationBegun', pass: 1, owed },
  PartMarkedDone: { type: 'PartMarkedDone', part: 3 },
  ApplicationFinished: { type: 'ApplicationFinished' },
  PrepSaid: { type: 'PrepSaid', complete: true },
  HelperJoined: { type: 'HelperJoined', person: 'person-ama' },
  HelperLeft: { type: 'HelperLeft', person: 'person-ama' },
  StrandTested: { type: 'StrandTested', place: 'porous', result: 'not-yet', part: 2 },
  HeatSet: { type: 'HeatSet', on: false },
  LimitsSet: { type: 'LimitsSet', minAfterMs: 9 * MINUTE, maxAfterMs: null, ceilingMs: 25 * MINUTE, raised: false },
  RinseBegun: { type: 'RinseBegun', basin: 91, owed },
  BasinNamed: { type: 'BasinNamed', basin: 92 },
  WentClear: { type: 'WentClear', to: 'neutralize', toPass: 0, owed },
  ShampooMarked: { type: 'ShampooMarked', indicator: 'coloured', strip: 7.5 },
  NeutralizerPutOn: { type: 'NeutralizerPutOn' },
  RodsTakenOut: { type: 'RodsTakenOut' },
  MovedOn: { type: 'MovedOn', to: 'dry', toPass: 1, owed: [] },
  VisitEnded: { type: 'VisitEnded', end: 'next-seated', owed },
  MovedTo: { type: 'MovedTo', chair: 2 },
  BurnsReported: { type: 'BurnsReported', place: 'eye' },
  BurnsClosed: { type: 'BurnsClosed', done: 'advice-sought' },
  AbandonedSettled: { type: 'AbandonedSettled' },
  TinglesReported: { type: 'TinglesReported' },
  TinglesAnswered: { type: 'TinglesAnswered', answer: 'to-water' },
  HeadOffered: { type: 'HeadOffered', to: 'person-joss' },
  OfferAnswered: { type: 'OfferAnswered', accepted: true },
  ReasonGiven: { type: 'ReasonGiven', version: 12, item: 'shampoos-short', reason: 'client-asked' },
  TimeCorrected: { type: 'TimeCorrected', of: 3, was: NOON + MINUTE, to: NOON, bought: true, reasoned: false },
  MoveTakenBack: { type: 'MoveTakenBack', versions: [7, 8] },
  StatementKept: { type: 'StatementKept', command: 'MarkPartDone' },
  AttendedSaid: { type: 'AttendedSaid' },
  WordsErased: { type: 'WordsErased' },
  TimeLost: { type: 'TimeLost' },
  TimeFound: { type: 'TimeFound', fromAt: NOON, byMs: 4 * MINUTE },
  BellRung: { type: 'BellRung', cause: 'off', kind: 'rinse', ...rung },
  BellWidened: { type: 'BellWidened', cause: 'off', episode: 2, circle: 1, why: 'taking-expired' },
  BellTaken: { type: 'BellTaken', cause: 'off' },
  BellPassed: { type: 'BellPassed', cause: 'off' },
  BellShown: { type: 'BellShown', cause: 'off', ...receipt },
  BellNotReached: { type: 'BellNotReached', cause: 'off', ...receipt },
  BellEnded: { type: 'BellEnded', cause: 'off', episode: 2, why: 'had-happened' },
} satisfies { readonly [T in FloorEventType]: OneOf<T> };

const schemas = [salonEvent, peopleEvent, directionsEvent, visitEvent] as const;

/** By kind, every shape of body that was ever stored, oldest first; the last is today's. Lines are added, never edited. */
const stored = golden as unknown as Readonly<Record<string, readonly StoredBody[]>>;

function recorded(event: FloorEvent): Recorded {
  const stream: Stream = 'visit/visit-one';
  return {
    stream,
    at: NOON,
    event,
    seq: 4,
    version: 2,
    recordedAt: NOON + 250,
    by: 'person-ama',
    device: null,
    command: 'command-1',
  };
}

describe('golden events', () => {
  test('every kind has one, and there is none of a kind that is gone', () => {
    expect(Object.keys(stored).sort()).toEqual([...eventTypes].sort());
    expect(Object.keys(today).sort()).toEqual([...eventTypes].sort());
  });

  test.each(eventTypes)('%s is stored as it is on record', (type) => {
    const body = rowOf(recorded(today[type])).body;
    expect(JSON.parse(body)).toEqual(stored[type]?.at(-1));
  });

  test.each(eventTypes)('%s is read as it was meant', (type) => {
    const event = upcast(type, stored[type]?.at(-1) ?? {});
    expect(event).toStrictEqual(today[type]);
  });

  test.each(eventTypes)('%s of every older shape is lifted to a kind known today, with all of its fields', (type) => {
    for (const body of stored[type] ?? []) {
      const event = upcast(type, body);
      expect(eventTypes).toContain(event.type);
      expect(Object.keys(event).sort()).toEqual(Object.keys(today[event.type]).sort());
    }
  });

  test.each(eventTypes)('%s of every older shape is lifted to what the wire tells today, to the last field', (type) => {
    for (const body of stored[type] ?? []) {
      const event = upcast(type, body);
      expect(schemas.some((schema) => schema.safeParse(event).success)).toBe(true);
    }
  });

  test('[E10] directions stored before there were figures under heat give none, wherever they were copied to', () => {
    for (const type of ['DirectionsWritten', 'VisitSeated', 'ServiceChosen'] as const) {
      const [old] = stored[type] ?? [];
      expect(JSON.stringify(old)).not.toContain('underHeat');
      const lifted = upcast(type, old ?? {});
      const rules =
        lifted.type === 'DirectionsWritten'
          ? [lifted.rules]
          : lifted.type === 'VisitSeated' || lifted.type === 'ServiceChosen'
            ? lifted.passes.map((pass) => pass.rules)
            : [];
      const known = rules.filter((one) => one !== null);
      expect(known.map((one) => one.underHeat)).toEqual(known.map(() => null));
      expect(known.length).toBeGreaterThan(0);
      // Nothing else of them is changed.
      expect(JSON.parse(JSON.stringify(lifted).replaceAll('"underHeat":null,', ''))).toEqual({ type, ...old });
    }
  });

  test.each(['WARNING', 'DANGER'] as const)(
    '[R6] a bell rung at %s before bells had circles asks those whose it is, DANGER everybody; nobody helped',
    (level) => {
      const circle = level === 'DANGER' ? 2 : 0;
      for (const type of ['BellRung', 'FloorBellRung'] as const) {
        const old = { ...stored[type]?.[0], level };
        expect(Object.keys(old)).not.toContain('circle');
        const chair = type === 'FloorBellRung' ? { chair: null } : {};
        expect(upcast(type, old)).toStrictEqual({ ...chair, ...old, type, circle, helper: null });
      }
    },
  );

  test.each(['FloorBellRung', 'FloorBellTaken', 'FloorBellEnded'] as const)(
    '[R2] %s of the time before chairs had bells is one of the whole floor; one of a chair stays where it is',
    (type) => {
      expect(Object.keys(stored[type]?.[0] ?? {})).not.toContain('chair');
      expect(upcast(type, stored[type]?.[0] ?? {})).toMatchObject({ chair: null });
      expect(upcast(type, { ...stored[type]?.at(-1), chair: 4 })).toMatchObject({ chair: 4 });
    },
  );

  test.each(eventTypes)('%s comes back through a row with its place, time and cause', (type) => {
    const one = recorded(today[type]);
    expect(recordedOf(JSON.parse(JSON.stringify(rowOf(one))))).toStrictEqual(one);
  });

  test('a kind that nothing can fold is refused, names of Object included', () => {
    for (const type of ['NeverHeardOf', 'toString', '__proto__'])
      expect(() => upcast(type, {})).toThrow(/unknown kind/);
  });

  test('an older shape is lifted to another kind and shape', () => {
    const lifts = { ChairMoved: ({ nr }: StoredBody) => ({ type: 'MovedTo', body: { chair: nr } }) };
    expect(upcast('ChairMoved', { nr: 5 }, lifts)).toStrictEqual({ type: 'MovedTo', chair: 5 });
    expect(upcast('MovedTo', { chair: 5 }, lifts)).toStrictEqual({ type: 'MovedTo', chair: 5 });
  });
});

describe('no free text in events', () => {
  test.each(eventTypes)('%s holds ids, codes, numbers and instants only', (type) => {
    expect(freeTextIn(today[type])).toEqual([]);
  });

  test.each([
    [{ type: 'LabelWritten', label: 'the lady in red' }, 'label: the lady in red'],
    [{ type: 'LabelWritten', note: 'x' }, 'note: x'],
    [{ type: 'PersonAdded', person: 'Ama from Tuesday', roles: [] }, 'person: Ama from Tuesday'],
    [{ type: 'ReasonGiven', version: 1, item: 'rinse-short', reason: 'she had to leave' }, 'reason: she had to leave'],
    [{ ...today.SalonSetUp, zone: 'Our/Town' }, 'zone: Our/Town'],
    [{ ...today.SalonSetUp, language: 'English' }, 'language: English'],
    [{ ...today.ServiceWritten, passes: ['curl, soft'] }, 'passes: curl, soft'],
    [{ ...today.FiguresSet, figures: { deep: [{ down: 'here' }] } }, 'down: here'],
  ])('the search finds what is planted in %j', (event, found) => {
    expect(freeTextIn(event as unknown as FloorEvent)).toEqual([found]);
  });

  test('words said in commands do not reach the log', () => {
    const WORD = 'Zanzibar words';
    const life = new FloorLife();
    life.do({
      type: 'SetUpSalon',
      name: `${WORD} salon`,
      zone: 'UTC',
      language: 'en',
      hourCycle: 'h23',
      demonstration: false,
    });
    life.do({ type: 'AddPlace', kind: 'chair', number: 1, label: `${WORD} 1` });
    life.do({ type: 'RelabelPlace', number: 1, label: `${WORD} 2` });
    life.do({ type: 'AddPerson', name: `${WORD} a`, roles: ['stylist'] }, { id: 'person-one' });
    life.do({ type: 'ChangePerson', person: 'person-one', name: `${WORD} b`, roles: ['stylist'] });
    life.do(
      { type: 'WriteDirections', directions: null, name: `${WORD} d`, source: `${WORD} leaflet`, rules: relaxer() },
      { id: 'directions-one' },
    );
    life.do({ type: 'WriteService', service: null, name: `${WORD} s`, passes: ['directions-one'], limits: [] });
    const visit = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: `${WORD} c` });
    life.do({ type: 'WriteLabel', visit, label: `${WORD} e` });
    life.pass(1).do({ type: 'BeginApplication', chair: 1, visit, service: null });
    life.pass(15).do({ type: 'FinishApplication', visit });
    const of = life.facts(visit).version;
    life.pass(1).do({ type: 'CorrectTime', visit, of, to: life.now - 30_000, reason: `${WORD} f` });
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: null });
    life.pass(1).do({ type: 'ClearAndOff', visit });
    life.do({ type: 'MoveOn', visit, to: 'finished' });
    const [debt] = life.facts(visit).owed;
    expect(debt).toBeDefined();
    if (debt === undefined) return;
    life.do({ type: 'GiveReason', visit, version: debt.version, item: debt.item, reason: 'other', note: `${WORD} g` });
    expect(JSON.stringify(life.floor.words)).toContain(WORD);
    expect(JSON.stringify(life.log)).not.toContain(WORD.split(' ')[0]);
    expect(life.log.flatMap(({ event }) => freeTextIn(event))).toEqual([]);
  });
});

import type { FloorEvent, FloorEventType } from '../../core/events.ts';

/** An event's fields as stored, its type aside. */
export type StoredBody = Readonly<Record<string, unknown>>;

/** Every kind that this program can fold: a new one that is not listed does not compile. */
const known = {
  SalonSetUp: true,
  PlaceAdded: true,
  PlaceRelabelled: true,
  PlaceRetired: true,
  FiguresSet: true,
  WallSet: true,
  RoomSet: true,
  PushSet: true,
  HelpAsked: true,
  HelpEnded: true,
  CivilStepped: true,
  TimescaleTaken: true,
  GapSeen: true,
  TimeBecameUncertain: true,
  TimeConfirmed: true,
  FloorBellRung: true,
  FloorBellWidened: true,
  FloorBellTaken: true,
  FloorBellPassed: true,
  FloorBellShown: true,
  FloorBellNotReached: true,
  FloorBellEnded: true,
  PersonAdded: true,
  PersonChanged: true,
  PersonRetired: true,
  ShiftBegun: true,
  ShiftEnded: true,
  WentAway: true,
  CameBack: true,
  DirectionsWritten: true,
  DirectionsRetired: true,
  ServiceWritten: true,
  ServiceRetired: true,
  UsualServiceChosen: true,
  VisitSeated: true,
  ServiceChosen: true,
  StylistNamed: true,
  LabelWritten: true,
  ApplicationBegun: true,
  PartMarkedDone: true,
  ApplicationFinished: true,
  PrepSaid: true,
  HelperJoined: true,
  HelperLeft: true,
  StrandTested: true,
  HeatSet: true,
  LimitsSet: true,
  RinseBegun: true,
  BasinNamed: true,
  WentClear: true,
  ShampooMarked: true,
  NeutralizerPutOn: true,
  RodsTakenOut: true,
  MovedOn: true,
  VisitEnded: true,
  MovedTo: true,
  BurnsReported: true,
  BurnsClosed: true,
  AbandonedSettled: true,
  TinglesReported: true,
  TinglesAnswered: true,
  HeadOffered: true,
  OfferAnswered: true,
  ReasonGiven: true,
  TimeCorrected: true,
  MoveTakenBack: true,
  StatementKept: true,
  AttendedSaid: true,
  WordsErased: true,
  TimeLost: true,
  TimeFound: true,
  BellRung: true,
  BellWidened: true,
  BellTaken: true,
  BellPassed: true,
  BellShown: true,
  BellNotReached: true,
  BellEnded: true,
} satisfies Record<FloorEventType, true>;

export const eventTypes = Object.keys(known) as readonly FloorEventType[];

/** Lifts the body of an older shape, under the type it was stored as, to the present type and shape. */
export type Upcast = (body: StoredBody) => { readonly type: string; readonly body: StoredBody };

/** Rules once knew nothing of figures under heat; directions written then give none (E10). */
function withHeatLimits(rules: unknown): unknown {
  return rules === null || typeof rules !== 'object' ? rules : { underHeat: null, ...rules };
}

function liftPasses(type: FloorEventType): Upcast {
  return (body) => {
    const passes = (body.passes as readonly StoredBody[]).map((one) => ({ ...one, rules: withHeatLimits(one.rules) }));
    return { type, body: { ...body, passes } };
  };
}

/** Bells once rang for everybody who held a phone, and for nobody in particular (R6). */
function liftRung(type: FloorEventType): Upcast {
  return (body) => ({ type, body: { circle: body.level === 'DANGER' ? 2 : 0, helper: null, ...body } });
}

/** Chairs once had no bells of their own. */
function onTheFloor(type: FloorEventType, lift: Upcast = (body) => ({ type, body })): Upcast {
  return (body) => lift({ chair: null, ...body });
}

/** Shapes that once were written and no longer are, by stored type. Stored events are never edited: they are lifted here. */
const older: Readonly<Record<string, Upcast>> = {
  VisitSeated: liftPasses('VisitSeated'),
  ServiceChosen: liftPasses('ServiceChosen'),
  // An early version did not write down what it had known last (T3).
  TimeBecameUncertain: (body) => ({ type: 'TimeBecameUncertain', body: { aliveAt: null, timescale: null, ...body } }),
  BellRung: liftRung('BellRung'),
  FloorBellRung: onTheFloor('FloorBellRung', liftRung('FloorBellRung')),
  FloorBellTaken: onTheFloor('FloorBellTaken'),
  FloorBellEnded: onTheFloor('FloorBellEnded'),
  DirectionsWritten: (body) => ({ type: 'DirectionsWritten', body: { ...body, rules: withHeatLimits(body.rules) } }),
};

/** The event that a stored type and body stand for today. Throws on a kind that nothing here can fold. */
export function upcast(type: string, body: StoredBody, lifts: Readonly<Record<string, Upcast>> = older): FloorEvent {
  const lift = Object.hasOwn(lifts, type) ? lifts[type] : undefined;
  const now = lift === undefined ? { type, body } : lift(body);
  if (!Object.hasOwn(known, now.type)) throw new Error(`the log holds an event of unknown kind: ${now.type}`);
  return { ...now.body, type: now.type } as unknown as FloorEvent;
}

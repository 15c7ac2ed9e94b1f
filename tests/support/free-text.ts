import { bellCauses, bellEnds, bellKinds, widenReasons } from '../../core/bells/bell.ts';
import { bellLevels } from '../../core/bells/level.ts';
import { productClasses } from '../../core/directions/product-class.ts';
import { partPlaces } from '../../core/directions/rules.ts';
import type { CommandType } from '../../core/command.ts';
import type { FloorEvent } from '../../core/events.ts';
import { helpEnds } from '../../core/salon/commands.ts';
import { placeKinds, roles } from '../../core/salon/salon.ts';
import { stages } from '../../core/visit/stages/stage.ts';
import { burnsEnds, owedItems, owedReasons, strandPlaces, tinglesAnswers, visitEnds } from '../../core/visit/visit.ts';
import { eventTypes } from '../../server/store/upcast.ts';
import { isZone } from '../../server/zones/temporal-zone.ts';

type Allowed = (text: string) => boolean;
const oneOf =
  (...lists: readonly (readonly string[])[]): Allowed =>
  (text) =>
    lists.some((list) => list.includes(text));

const id: Allowed = (text) => /^[A-Za-z0-9_-]{8,64}$/.test(text);

/** A language tag of BCP 47, in its canonical spelling. */
const language: Allowed = (text) => {
  try {
    return Intl.getCanonicalLocales(text)[0] === text;
  } catch {
    return false;
  }
};

const commands = {
  SetUpSalon: true,
  AddPlace: true,
  RelabelPlace: true,
  RetirePlace: true,
  AddPerson: true,
  ChangePerson: true,
  RetirePerson: true,
  WriteDirections: true,
  RetireDirections: true,
  WriteService: true,
  RetireService: true,
  ChooseUsualService: true,
  SetFigures: true,
  SetWall: true,
  SetRoom: true,
  SetPush: true,
  BeginShift: true,
  EndShift: true,
  GoAway: true,
  ComeBack: true,
  AskHelp: true,
  EndHelp: true,
  SeatVisit: true,
  ChooseService: true,
  NameStylist: true,
  WriteLabel: true,
  BeginApplication: true,
  MarkPartDone: true,
  FinishApplication: true,
  SayPrep: true,
  JoinAsHelper: true,
  LeaveAsHelper: true,
  TestStrand: true,
  SetHeat: true,
  SetLimits: true,
  BeginRinse: true,
  NameBasin: true,
  ClearAndOff: true,
  MarkShampoo: true,
  PutNeutralizerOn: true,
  TakeRodsOut: true,
  MoveOn: true,
  MoveTo: true,
  Abandon: true,
  SettleAbandoned: true,
  Discard: true,
  ReportBurns: true,
  CloseBurns: true,
  TakeBell: true,
  PassBell: true,
  ReportTingles: true,
  AnswerTingles: true,
  OfferHead: true,
  AnswerOffer: true,
  CorrectTime: true,
  TakeBack: true,
  GiveReason: true,
  AnswerUnattended: true,
  EraseWords: true,
  ConfirmTime: true,
} satisfies Record<CommandType, true>;

/** What each field of an event may say in letters; a field that is not here may say nothing. */
const fields: Readonly<Record<string, Allowed>> = {
  type: oneOf(eventTypes),
  person: id,
  stylist: id,
  directions: id,
  copiedBy: id,
  service: id,
  after: id,
  timescale: id,
  // In ServiceWritten a list of ids; in a visit's events objects, looked into by themselves.
  passes: id,
  zone: isZone,
  language,
  hourCycle: oneOf(['h12', 'h23']),
  kind: oneOf(placeKinds, bellKinds, ['shampoos', 'neutralizer', 'condition']),
  cause: oneOf(bellCauses),
  level: oneOf(bellLevels),
  why: oneOf(bellEnds, widenReasons, ['slept', 'restarted', 'rebooted']),
  roles: oneOf(roles),
  stage: oneOf(stages),
  // A stage, or in HeadOffered a person.
  to: (text) => stages.some((stage) => stage === text) || id(text),
  helper: id,
  cover: id,
  answer: oneOf(tinglesAnswers),
  how: oneOf(helpEnds),
  class: oneOf(productClasses),
  manner: oneOf(['whole-head', 'by-part']),
  heat: oneOf(['never', 'allowed', 'required']),
  proof: oneOf(['indicator', 'strip', 'count']),
  place: oneOf(partPlaces, strandPlaces, ['skin', 'eye']),
  result: oneOf(['ready', 'not-yet']),
  item: oneOf(owedItems),
  reason: oneOf(owedReasons),
  end: oneOf(visitEnds),
  done: oneOf(burnsEnds),
  indicator: oneOf(['colourless', 'coloured']),
  command: oneOf(Object.keys(commands)),
};

/** Strings in an event that are neither an id, nor a code of a closed list, nor a zone or language: `field: text` each. */
export function freeTextIn(event: FloorEvent): string[] {
  const found: string[] = [];
  const look = (value: unknown, field: string): void => {
    if (typeof value === 'string') {
      const allowed = Object.hasOwn(fields, field) ? fields[field] : undefined;
      if (allowed?.(value) !== true) found.push(`${field}: ${value}`);
    } else if (Array.isArray(value)) {
      for (const one of value) look(one, field);
    } else if (value !== null && typeof value === 'object') {
      for (const [key, one] of Object.entries(value)) look(one, key);
    }
  };
  look(event, 'event');
  return found;
}

import type { CommandOf } from '../command.ts';
import { done, onStream, refuse, type Decision, type Setting } from '../decision.ts';
import { checkRules } from '../directions/check.ts';
import { openVisits, type Floor } from '../floor.ts';
import { HOUR, MINUTE, type Ms } from '../time.ts';
import { wordKey } from '../words.ts';
import { figureLimits, type Figures } from './salon.ts';
import type { SalonCommand } from './commands.ts';
import { confirmTime } from './confirm-time.ts';
import { askHelp, endHelp } from './help.ts';
import { setPush, setRoom } from './set-room.ts';
import { beginShift, comeBack, endShift, goAway } from './shifts.ts';

type Decider<T extends SalonCommand['type']> = (setting: Setting, command: CommandOf<T>) => Decision;

/** Most passes of one service; lightener, toner and a few to spare. */
const MOST_PASSES = 4;

/** No stage of a visit is asked after sooner or later than this (common practice, no source). */
const SHORTEST_LIMIT: Ms = MINUTE;
const LONGEST_LIMIT: Ms = 12 * HOUR;

function labelUsed(floor: Floor, label: string, except: number | null): boolean {
  return Object.values(floor.places).some(
    (place) =>
      !place.retired &&
      place.number !== except &&
      floor.words[wordKey.place(place.number)]?.toLowerCase() === label.toLowerCase(),
  );
}

function nameUsed(floor: Floor, name: string, except: string | null): boolean {
  return Object.values(floor.people).some(
    (one) =>
      !one.retired && one.id !== except && floor.words[wordKey.person(one.id)]?.toLowerCase() === name.toLowerCase(),
  );
}

const addPlace: Decider<'AddPlace'> = (setting, { kind, number, label }) => {
  const { floor } = setting;
  const before = floor.places[number];
  if (before !== undefined && !before.retired) return refuse('number-taken', { place: number, field: 'number' });
  if (before !== undefined && before.kind !== kind) return refuse('number-taken', { place: number, field: 'number' });
  if (labelUsed(floor, label, null)) return refuse('label-taken', { place: number, field: 'label' });
  return done(
    null,
    [onStream(setting, 'salon', { type: 'PlaceAdded', number, kind })],
    [{ key: wordKey.place(number), text: label }],
  );
};

const retirePlace: Decider<'RetirePlace'> = (setting, { number }) => {
  const { floor } = setting;
  const place = floor.places[number];
  if (place === undefined || place.retired) return refuse('unknown-place', { place: number });
  const busy = openVisits(floor).some((visit) => {
    const pass = visit.passes[visit.pass];
    return visit.chair === number || pass?.water?.basin === number || pass?.neutralizerWater?.basin === number;
  });
  if (busy) return refuse('in-use', { place: number });
  return done(null, [onStream(setting, 'salon', { type: 'PlaceRetired', number })]);
};

const relabelPlace: Decider<'RelabelPlace'> = (setting, { number, label }) => {
  const place = setting.floor.places[number];
  if (place === undefined || place.retired) return refuse('unknown-place', { place: number });
  if (labelUsed(setting.floor, label, number)) return refuse('label-taken', { place: number, field: 'label' });
  return done(
    null,
    [onStream(setting, 'salon', { type: 'PlaceRelabelled', number })],
    [{ key: wordKey.place(number), text: label }],
  );
};

const changePerson: Decider<'ChangePerson'> = (setting, { person, name, roles }) => {
  if (setting.floor.people[person] === undefined) return refuse('unknown-person', { field: 'person' });
  if (nameUsed(setting.floor, name, person)) return refuse('name-taken', { field: 'name' });
  return done(
    null,
    [onStream(setting, 'people', { type: 'PersonChanged', person, roles })],
    [{ key: wordKey.person(person), text: name }],
  );
};

const writeDirections: Decider<'WriteDirections'> = (setting, command) => {
  const before = command.directions === null ? null : setting.floor.directions[command.directions];
  if (before === undefined) return refuse('unknown-directions', { field: 'directions' });
  const fault = checkRules(command.rules)[0];
  if (fault !== undefined) return refuse('directions-contradict', { field: `rules.${fault.field}:${fault.fault}` });
  const directions = before?.id ?? setting.sender.id;
  const version = (before?.version ?? 0) + 1;
  const copiedBy = setting.sender.by;
  const event = { type: 'DirectionsWritten', directions, version, rules: command.rules, copiedBy } as const;
  return done(
    null,
    [onStream(setting, 'directions', event)],
    [
      { key: wordKey.directions(directions), text: command.name },
      { key: wordKey.source(directions, version), text: command.source },
    ],
  );
};

const writeService: Decider<'WriteService'> = (setting, { service: named, name, passes, limits }) => {
  const before = named === null ? null : setting.floor.services[named];
  if (before === undefined) return refuse('unknown-service', { field: 'service' });
  if (passes.length < 1 || passes.length > MOST_PASSES) return refuse('out-of-range', { field: 'passes' });
  const missing = passes.some(
    (id) => setting.floor.directions[id] === undefined || setting.floor.directions[id]?.retired === true,
  );
  if (missing) return refuse('unknown-directions', { field: 'passes' });
  const wrong = limits.find(({ stage, limitMs }, i) => {
    const twice = limits.findIndex((one) => one.stage === stage) < i;
    return twice || stage === 'finished' || limitMs < SHORTEST_LIMIT || limitMs > LONGEST_LIMIT;
  });
  if (wrong !== undefined) return refuse('out-of-range', { field: `limits.${wrong.stage}` });
  const service = before?.id ?? setting.sender.id;
  const event = { type: 'ServiceWritten', service, passes, limits } as const;
  return done(null, [onStream(setting, 'directions', event)], [{ key: wordKey.service(service), text: name }]);
};

const setFigures: Decider<'SetFigures'> = (setting, { figures }) => {
  for (const [name, [least, most]] of Object.entries(figureLimits) as [keyof Figures, readonly [number, number]][]) {
    const value = figures[name];
    if (value < least || value > most) return refuse('out-of-range', { field: `figures.${name}` });
  }
  return done(null, [onStream(setting, 'salon', { type: 'FiguresSet', figures })]);
};

export const salonDeciders = {
  SetUpSalon: (setting, { name, zone, language, hourCycle, demonstration }) =>
    done(
      null,
      [onStream(setting, 'salon', { type: 'SalonSetUp', zone, language, hourCycle, demonstration })],
      [{ key: wordKey.salonName(), text: name }],
    ),
  AddPlace: addPlace,
  RelabelPlace: relabelPlace,
  RetirePlace: retirePlace,
  AddPerson: (setting, { name, roles }) => {
    if (nameUsed(setting.floor, name, null)) return refuse('name-taken', { field: 'name' });
    const person = setting.sender.id;
    return done(
      null,
      [onStream(setting, 'people', { type: 'PersonAdded', person, roles })],
      [{ key: wordKey.person(person), text: name }],
    );
  },
  ChangePerson: changePerson,
  RetirePerson: (setting, { person }) => {
    const before = setting.floor.people[person];
    if (before === undefined || before.retired) return refuse('unknown-person', { field: 'person' });
    return done(null, [onStream(setting, 'people', { type: 'PersonRetired', person })]);
  },
  WriteDirections: writeDirections,
  RetireDirections: (setting, { directions }) => {
    const before = setting.floor.directions[directions];
    if (before === undefined || before.retired) return refuse('unknown-directions', { field: 'directions' });
    const used = Object.values(setting.floor.services).some((one) => !one.retired && one.passes.includes(directions));
    if (used) return refuse('in-use', { field: 'directions' });
    return done(null, [onStream(setting, 'directions', { type: 'DirectionsRetired', directions })]);
  },
  WriteService: writeService,
  RetireService: (setting, { service }) => {
    const before = setting.floor.services[service];
    if (before === undefined || before.retired) return refuse('unknown-service', { field: 'service' });
    return done(null, [onStream(setting, 'directions', { type: 'ServiceRetired', service })]);
  },
  ChooseUsualService: (setting, { service }) => {
    const before = setting.floor.services[service];
    if (before === undefined || before.retired) return refuse('unknown-service', { field: 'service' });
    return done(null, [onStream(setting, 'directions', { type: 'UsualServiceChosen', service })]);
  },
  SetFigures: setFigures,
  ConfirmTime: confirmTime,
  SetWall: (setting, { wall }) => done(null, [onStream(setting, 'salon', { type: 'WallSet', wall })]),
  SetRoom: setRoom,
  SetPush: setPush,
  BeginShift: beginShift,
  EndShift: endShift,
  GoAway: goAway,
  ComeBack: comeBack,
  AskHelp: askHelp,
  EndHelp: endHelp,
} as const satisfies { [T in SalonCommand['type']]: Decider<T> };

import type { Rules } from '../../../../core/directions/rules.ts';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { bellScenes } from './bell-scenes.ts';
import { applicationScenes } from './application-scenes.ts';

const FOUR = 4;

/** A floor with a head at chair 4, seated and begun; the scene goes on from there. */
function begun(rules?: Rules): { life: FloorLife; visit: string } {
  const { life, visit } = seated(rules);
  life.pass(2);
  life.do({ type: 'BeginApplication', chair: FOUR, visit, service: null }, { by: 'person-ama' });
  return { life, visit };
}

function seated(rules?: Rules, label = 'B.'): { life: FloorLife; visit: string } {
  const life = FloorLife.salon(rules);
  life.do({ type: 'ChooseUsualService', service: 'service-1' });
  const visit = life.do({ type: 'SeatVisit', chair: FOUR, service: 'service-1', stylist: 'person-ama', label });
  return { life, visit };
}

function applied(minutes = 15, rules?: Rules): { life: FloorLife; visit: string } {
  const { life, visit } = begun(rules);
  for (let part = 0; part < 4; part += 1) {
    life.pass(minutes / 4);
    life.do({ type: 'MarkPartDone', visit, part }, { by: 'person-ama' });
  }
  return { life, visit };
}

function rinsed(rules?: Rules, basin: number | null = 91): { life: FloorLife; visit: string } {
  const { life, visit } = applied(15, rules);
  life.pass(11);
  life.do({ type: 'BeginRinse', chair: FOUR, visit, basin }, { by: 'person-joss' });
  return { life, visit };
}

function neutral(rules?: Rules): { life: FloorLife; visit: string } {
  const { life, visit } = rinsed(rules);
  life.pass(6);
  life.do({ type: 'ClearAndOff', visit });
  return { life, visit };
}

/** Chair 4 in process, 1 in apply, 2 at basin A, 3 drying with reasons owed. */
function crowd(): FloorLife {
  const { life } = applied();
  const dry = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: 'service-1' }, { by: 'person-joss' });
  life.do({ type: 'BeginRinse', chair: 3, visit: dry, basin: 92 });
  life.do({ type: 'MoveOn', visit: dry, to: 'dry' });
  const two = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' }, { by: 'person-joss' });
  life.pass(5);
  life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: 'Mo' });
  life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }, { by: 'person-ama' });
  life.pass(3);
  life.do({ type: 'BeginRinse', chair: 2, visit: two, basin: 91 });
  return life.pass(1);
}

const strips = relaxer({
  finishing: [
    { kind: 'shampoos', count: 2, dwellMs: 120_000, proof: 'strip', stripLimit: 5.5 },
    { kind: 'condition', dwellMs: 180_000 },
  ],
});

/** What can be looked at, by name. */
export const scenes: Readonly<Record<string, () => FloorLife>> = {
  ...applicationScenes,
  ...bellScenes,
  empty: () => {
    const life = FloorLife.salon();
    life.do({ type: 'ChooseUsualService', service: 'service-1' });
    return life;
  },
  unusual: () => FloorLife.salon(),
  prep: () => seated().life.pass(4),
  long: () => {
    const { life, visit } = seated(undefined, 'Wilhelmina-W');
    life.do(
      { type: 'AddPerson', name: 'Maximiliane Featherstonehaugh-Wolfe', roles: ['stylist'] },
      { id: 'person-max' },
    );
    life.do({
      type: 'WriteService',
      service: 'service-1',
      name: 'Straightening, resistant and regrowth',
      passes: ['directions-1'],
      limits: [],
    });
    life.do({ type: 'ChooseService', visit, service: 'service-1' });
    life.do({ type: 'NameStylist', visit, stylist: 'person-max' });
    return life.pass(1);
  },
  apply: () => {
    const { life, visit } = begun();
    life.pass(4.1);
    life.do({ type: 'MarkPartDone', visit, part: 0 }, { by: 'person-ama' });
    return life.pass(0.05);
  },
  slow: () => begun().life.pass(19),
  late: () => begun().life.pass(31),
  colour: () => begun(colour()).life.pass(6),
  process: () => applied().life.pass(5),
  window: () => applied().life.pass(10.5),
  noroom: () => applied(24).life.pass(1),
  warning: () => applied().life.pass(13),
  taken: () => {
    const { life, visit } = applied();
    life.pass(13);
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    return life;
  },
  danger: () => applied().life.pass(15.8),
  busy: () => {
    const { life } = applied();
    life.pass(8);
    for (const [chair, basin] of [
      [1, 91],
      [2, 92],
    ] as const) {
      const visit = life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
      life.do({ type: 'BeginRinse', chair, visit, basin });
    }
    return life.pass(3);
  },
  rinse: () => rinsed().life.pass(2),
  nobasin: () => rinsed(undefined, null).life.pass(0.1),
  clear: () => rinsed().life.pass(5.5),
  shampoo: () => neutral().life.pass(1),
  coloured: () => {
    const { life, visit } = neutral();
    for (const indicator of ['coloured', 'coloured'] as const) {
      life.pass(2.2);
      life.do({ type: 'MarkShampoo', visit, indicator, strip: null }, { seen: life.facts(visit).version });
    }
    return life.pass(0.5);
  },
  strip: () => neutral(strips).life.pass(3),
  neutralizer: () => neutral(perm()).life.pass(0.5),
  neutralizing: () => {
    const { life, visit } = neutral(perm());
    life.pass(1);
    life.do({ type: 'PutNeutralizerOn', visit });
    return life.pass(6);
  },
  condition: () => {
    const { life, visit } = neutral();
    life.pass(5);
    life.do({ type: 'MoveOn', visit, to: 'condition' });
    return life.pass(1);
  },
  dry: () => {
    const { life, visit } = neutral();
    life.pass(1);
    life.do({ type: 'MoveOn', visit, to: 'dry' });
    return life.pass(3);
  },
  finished: () => {
    const { life, visit } = neutral();
    life.pass(1);
    life.do({ type: 'MoveOn', visit, to: 'finished' });
    return life.pass(0.05);
  },
  left: () => {
    const { life, visit } = applied();
    life.pass(3);
    life.do({ type: 'Abandon', visit });
    return life.pass(1);
  },
  burns: () => {
    const { life, visit } = applied();
    life.pass(3);
    life.do({ type: 'ReportBurns', chair: FOUR, visit, place: 'eye' });
    return life.pass(0.2);
  },
  flushing: () => {
    const { life, visit } = applied();
    life.pass(3);
    life.do({ type: 'ReportBurns', chair: FOUR, visit, place: 'eye' });
    life.pass(0.5);
    life.do({ type: 'BeginRinse', chair: FOUR, visit, basin: 91 });
    return life.pass(4.3);
  },
  unknown: () => {
    const life = FloorLife.salon();
    life.do({ type: 'BeginRinse', chair: FOUR, visit: null, basin: null });
    return life.pass(0.5);
  },
  floor: () => crowd(),
  floorwarning: () => crowd().pass(4.2),
  floordanger: () => crowd().pass(6.2),
  floortaken: () => {
    const life = crowd().pass(4.2);
    const visit = Object.values(life.floor.visits).find(({ facts }) => facts.chair === FOUR)?.facts.id ?? '';
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    return life.pass(0.2);
  },
  floorburns: () => {
    const life = crowd();
    const visit = Object.values(life.floor.visits).find(({ facts }) => facts.chair === FOUR)?.facts.id ?? '';
    life.do({ type: 'ReportBurns', chair: FOUR, visit, place: 'skin' });
    life.pass(0.4);
    life.do({ type: 'BeginRinse', chair: FOUR, visit, basin: 92 });
    return life.pass(2.2);
  },
  lostclock: () => {
    const life = crowd();
    life.unsavedSince = life.now;
    return life.pass(0.1);
  },
};

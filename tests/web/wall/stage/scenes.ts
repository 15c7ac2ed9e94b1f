import type { BellCause } from '../../../../core/bells/bell.ts';
import { MINUTE } from '../../../../core/time.ts';
import type { Role } from '../../../../core/salon/salon.ts';
import type { StrandResult } from '../../../../core/visit/visit.ts';
import { colour, perm, relaxer, tested } from '../../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../../support/floor-life.ts';

/** The instant that is looked at, minutes after noon. */
const LOOK_AT = 120;

export interface Staging {
  readonly chairs: number;
  readonly basins: number;
  /** Long labels and names, to see what gives way. */
  readonly long: boolean;
  /** Nothing rings. */
  readonly calm: boolean;
  /** Bells that are carried on, not shown, taken, asked for; people are on shift. */
  readonly bells: boolean;
  /** Heads that show parts, pace, strand tests and questions. */
  readonly hair: boolean;
  readonly diagonalIn: number;
  readonly distanceM: number;
}

interface Step {
  readonly minute: number;
  readonly act: () => void;
}

type At = (minutesBefore: number, act: (visit: string) => void) => void;

interface Head {
  readonly life: FloorLife;
  readonly chair: number;
  readonly service: string;
  readonly at: At;
}

const begin = ({ life, chair, service, at }: Head, before: number, stylist: string | null = null): void =>
  at(before, () => void life.do({ type: 'BeginApplication', chair, visit: null, service }, { by: stylist }));
const seat = ({ life, chair, service, at }: Head, before: number, stylist: string): void =>
  at(before, () => void life.do({ type: 'SeatVisit', chair, service, stylist, label: null }));
const finish = ({ life, at }: Head, before: number): void =>
  at(before, (visit) => void life.do({ type: 'FinishApplication', visit }));
const water = ({ life, chair, at }: Head, before: number, basin: number | null): void =>
  at(before, (visit) => void life.do({ type: 'BeginRinse', chair, visit, basin }));
const clear = ({ life, at }: Head, before: number): void =>
  at(before, (visit) => void life.do({ type: 'ClearAndOff', visit }));
const take = ({ life, at }: Head, before: number, by: string, cause: BellCause = 'off'): void =>
  at(before, (visit) => void life.do({ type: 'TakeBell', visit, chair: null, cause }, { by }));
const parts = ({ life, at }: Head, ...before: readonly number[]): void =>
  before.forEach((one) => at(one, (visit) => void life.do({ type: 'MarkPartDone', visit, part: null })));
const strand = ({ life, at }: Head, before: number, result: StrandResult): void =>
  at(before, (visit) => void life.do({ type: 'TestStrand', visit, place: 'first', result, part: null, note: null }));
const tells = ({ life, at }: Head, before: number): void =>
  at(before, (visit) => void life.do({ type: 'ReportTingles', visit }, { by: 'person-ama' }));
const asks = ({ life, chair, at }: Head, before: number): void =>
  at(before, () => void life.do({ type: 'AskHelp', chair }, { by: 'person-tomasz' }));
const rinsed = (head: Head, before: number, basin: number): void => {
  begin(head, before + 32);
  finish(head, before + 18);
  water(head, before + 6, basin);
  clear(head, before);
};

/** What is going on at a chair; the numbers are minutes before the look. */
const heads: Record<string, (head: Head) => void> = {
  apply: (h) => (seat(h, 12, 'person-ama'), begin(h, 9)),
  warning: (h) => (seat(h, 30, 'person-joss'), begin(h, 28.17), finish(h, 13.2)),
  free: () => undefined,
  caution: (h) => (seat(h, 50, 'person-tomasz'), begin(h, 45), finish(h, 28)),
  process: (h) => (seat(h, 20, 'person-ines'), begin(h, 18), finish(h, 3)),
  danger: (h) => (seat(h, 36, 'person-ama'), begin(h, 30.8), finish(h, 15.8)),
  dangerTaken: (h) => (seat(h, 36, 'person-ama'), begin(h, 30.4), finish(h, 15.4), take(h, 0.2, 'person-ines')),
  slow: (h) => (seat(h, 19, 'person-joss'), begin(h, 17)),
  dry: (h) => (rinsed(h, 9, 91), h.at(2, (visit) => void h.life.do({ type: 'MoveOn', visit, to: 'dry' }))),
  noRoom: (h) => {
    seat(h, 26, 'person-ama');
    begin(h, 25.5);
    for (const before of [19.5, 13.5, 7.5, 1.5]) {
      h.at(before, (visit) => void h.life.do({ type: 'MarkPartDone', visit, part: null }));
    }
  },
  rinse: (h) => (begin(h, 30), finish(h, 15), water(h, 2.6, 91)),
  rinseDone: (h) => (begin(h, 40), finish(h, 25), water(h, 7, 92)),
  rinseNowhere: (h) => (begin(h, 31), finish(h, 16), water(h, 2, null)),
  shampoo: (h) => rinsed(h, 0.8, 92),
  condition: (h) => (rinsed(h, 5, 92), h.at(1, (visit) => void h.life.do({ type: 'MoveOn', visit, to: 'condition' }))),
  prepLong: (h) => seat(h, 25, 'person-ines'),
  prep: (h) => seat(h, 3, 'person-ines'),
  burns: (h) => (
    begin(h, 12),
    h.at(0.4, (visit) => void h.life.do({ type: 'ReportBurns', chair: h.chair, visit, place: 'skin' }))
  ),
  burnsWater: (h) => (
    begin(h, 12),
    h.at(4, (visit) => void h.life.do({ type: 'ReportBurns', chair: h.chair, visit, place: 'eye' })),
    water(h, 3.4, 91)
  ),
  neutralizer: (h) => (rinsed(h, 4, 91), h.at(3, (visit) => void h.life.do({ type: 'PutNeutralizerOn', visit }))),
  justBegun: (h) => (seat(h, 4, 'person-joss'), begin(h, 1)),
  longOver: (h) => (begin(h, 42), finish(h, 27)),
  paced: (h) => (seat(h, 12, 'person-ama'), begin(h, 10), parts(h, 0.1)),
  pacedTaken: (h) => (seat(h, 12, 'person-ama'), begin(h, 10), parts(h, 0.3), take(h, 0.1, 'person-ines', 'pace')),
  paceHelped: (h) => (
    seat(h, 12, 'person-ama'),
    begin(h, 10),
    parts(h, 2),
    h.at(1.5, (visit) => void h.life.do({ type: 'JoinAsHelper', visit, person: 'person-ines' }))
  ),
  noRoomApply: (h) => (seat(h, 26, 'person-ama'), begin(h, 22), parts(h, 15, 8, 1)),
  testSoon: (h) => (seat(h, 26, 'person-ines'), begin(h, 18), finish(h, 3)),
  testDue: (h) => (seat(h, 26, 'person-ines'), begin(h, 20), finish(h, 5.4)),
  testTaken: (h) => (seat(h, 26, 'person-ines'), begin(h, 20), finish(h, 5.4), take(h, 0.2, 'person-ama', 'test')),
  tested: (h) => (seat(h, 30, 'person-ines'), begin(h, 24), finish(h, 8), strand(h, 2.6, 'not-yet')),
  ready: (h) => (
    seat(h, 30, 'person-ines'),
    begin(h, 24),
    finish(h, 8),
    strand(h, 2.6, 'not-yet'),
    strand(h, 0.3, 'ready')
  ),
  begunAsk: (h) => (
    seat(h, 14, 'person-joss'),
    h.at(9, (visit) => void h.life.do({ type: 'SayPrep', visit, complete: true }))
  ),
  waterAsk: (h) => (begin(h, 20), finish(h, 8), water(h, 1.8, 91)),
  waterAskNowhere: (h) => (begin(h, 31), finish(h, 16), water(h, 2, null)),
  minimum: (h) => (begin(h, 40), finish(h, 25), water(h, 7, 92)),
  dwelt: (h) => rinsed(h, 2.8, 92),
  conditioned: (h) => (
    rinsed(h, 9, 92),
    h.at(4, (visit) => void h.life.do({ type: 'MoveOn', visit, to: 'condition' }))
  ),
  tingles: (h) => (seat(h, 20, 'person-ama'), begin(h, 9), tells(h, 0.5)),
  tinglesTaken: (h) => (seat(h, 20, 'person-ama'), begin(h, 9), tells(h, 0.5), take(h, 0.2, 'person-ines', 'tingles')),
  tinglesUnanswered: (h) => (seat(h, 20, 'person-joss'), begin(h, 9), tells(h, 2)),
  helpHead: (h) => (seat(h, 12, 'person-ama'), begin(h, 9), asks(h, 0.5)),
  helpBeside: (h) => (seat(h, 30, 'person-joss'), begin(h, 28.17), finish(h, 13.2), asks(h, 2.5)),
  helpFree: (h) => asks(h, 2.2),
  backToRinse: (h) => (
    rinsed(h, 10, 92),
    [7.5, 5.3, 3.1, 0.9].forEach((before) =>
      h.at(
        before,
        (visit) =>
          void h.life.do(
            { type: 'MarkShampoo', visit, indicator: 'coloured', strip: null },
            { seen: h.life.facts(visit).version },
          ),
      ),
    )
  ),
  takingOver: (h) => (seat(h, 36, 'person-ines'), begin(h, 30), finish(h, 14.6), take(h, 1.8, 'person-joss')),
  leftWithProduct: (h) => (begin(h, 10), h.at(3, (visit) => void h.life.do({ type: 'Abandon', visit }))),
};

const USUAL = ['apply', 'warning', 'free', 'caution', 'process', 'dangerTaken', 'slow', 'dry'];
const OTHERS = ['noRoom', 'rinse', 'shampoo', 'justBegun', 'prepLong', 'burnsWater', 'neutralizer', 'condition'];
const RARE = ['burns', 'longOver', 'leftWithProduct', 'rinseNowhere', 'rinseDone', 'prep', 'danger', 'free'];
const CALM = ['apply', 'process', 'free', 'dry', 'justBegun', 'rinse', 'prep', 'condition'];
const BELLS = [
  'tingles',
  'warning',
  'helpFree',
  'tinglesTaken',
  'tinglesUnanswered',
  'burns',
  'helpHead',
  'backToRinse',
];
const MORE_BELLS = ['helpBeside', 'takingOver', 'danger', 'free', 'burnsWater', 'apply', 'leftWithProduct', 'dry'];
/** Time on hair part by part, strand tests, and what is asked. */
const HAIR = ['paced', 'noRoomApply', 'testDue', 'tested', 'ready', 'begunAsk', 'waterAsk', 'minimum'];
const MORE_HAIR = [
  'pacedTaken',
  'testTaken',
  'waterAskNowhere',
  'dwelt',
  'noRoom',
  'testSoon',
  'paceHelped',
  'conditioned',
];
const SERVICE: Record<string, string> = {
  caution: 'service-colour',
  neutralizer: 'service-perm',
  testSoon: 'service-tested',
  testDue: 'service-tested',
  testTaken: 'service-tested',
  tested: 'service-tested',
  ready: 'service-tested',
};

function plannedSalon(staging: Staging): FloorLife {
  const life = new FloorLife();
  const named = (short: string, long: string): string => (staging.long ? long : short);
  life.do({
    type: 'SetUpSalon',
    name: 'Model',
    zone: 'Europe/Berlin',
    language: 'en',
    hourCycle: 'h23',
    demonstration: true,
  });
  for (let number = 1; number <= staging.chairs; number += 1) {
    const label = staging.long ? `${number % 3 === 0 ? 'WM' : 'W'}${number}` : String(number);
    life.do({ type: 'AddPlace', kind: 'chair', number, label });
  }
  for (let n = 0; n < staging.basins; n += 1) {
    const label = staging.long ? `MW${n}` : String.fromCharCode(65 + n);
    life.do({ type: 'AddPlace', kind: 'basin', number: 91 + n, label });
  }
  const people: [string, string, Role][] = [
    ['person-ama', named('Ama', 'Ama-Serwaa Oforiwaa Darkwah-Agyemang'), 'stylist'],
    ['person-joss', named('Joss', 'Jossqvistwendelbolundsbergstrandhammarsk'), 'assistant'],
    ['person-tomasz', named('Tomasz', 'Tomasz Wojciechowski-Brzęczyszczykiewicz'), 'stylist'],
    ['person-ines', named('Ines', 'Maria Inês de Almeida e Vasconcelos'), 'senior'],
  ];
  for (const [id, name, role] of people) life.do({ type: 'AddPerson', name, roles: [role] }, { id });
  const products = [
    ['1', relaxer()],
    ['tested', relaxer(tested)],
    ['perm', perm()],
    ['colour', colour({ minAfterMs: 28 * MINUTE })],
  ] as const;
  for (const [id, rules] of products) {
    life.do(
      { type: 'WriteDirections', directions: null, name: id, source: 'leaflet', rules },
      { id: `directions-${id}` },
    );
    const limits = [{ stage: 'prep' as const, limitMs: 20 * MINUTE }];
    life.do(
      { type: 'WriteService', service: null, name: id, passes: [`directions-${id}`], limits },
      { id: `service-${id}` },
    );
  }
  life.do({ type: 'SetWall', wall: { diagonalIn: staging.diagonalIn, distanceM: staging.distanceM } });
  return life;
}

/** A floor with something different at each chair, played through the commands up to the look. */
export function stagedFloor(staging: Staging): FloorLife {
  const life = plannedSalon(staging);
  // Ines's phone is silent, and Joss has none.
  if (staging.bells) life.reach = { nobodySince: null, pushOnly: [] };
  const shift = staging.bells ? ['person-ama', 'person-joss', 'person-tomasz', 'person-ines'] : [];
  for (const person of shift) life.do({ type: 'BeginShift', person }, { by: person });
  const usual = staging.bells
    ? [...BELLS, ...MORE_BELLS]
    : staging.hair
      ? [...HAIR, ...MORE_HAIR]
      : [...USUAL, ...OTHERS, ...RARE];
  const plan = staging.calm ? CALM : usual;
  const steps: Step[] = [];
  for (let chair = 1; chair <= staging.chairs; chair += 1) {
    const kind = plan[(chair - 1) % plan.length] ?? 'free';
    const at: At = (before, act) => {
      const visit = (): string =>
        Object.values(life.floor.visits).find(({ facts }) => facts.chair === chair)?.facts.id ?? '';
      steps.push({ minute: LOOK_AT - before, act: () => act(visit()) });
    };
    heads[kind]?.({ life, chair, service: SERVICE[kind] ?? 'service-1', at });
  }
  for (const { minute, act } of steps.sort((a, b) => a.minute - b.minute)) {
    life.at(minute);
    act();
  }
  return life.at(LOOK_AT);
}

export const LOOKED_AT = NOON + LOOK_AT * MINUTE;

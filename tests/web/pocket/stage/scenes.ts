import { defaultParts, type Rules } from '../../../../core/directions/rules.ts';
import { MINUTE } from '../../../../core/time.ts';
import type { StrandResult } from '../../../../core/visit/visit.ts';
import { relaxer, tested } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';

const CHAIR = 4;

interface Head {
  readonly life: FloorLife;
  readonly visit: string;
}

/** Ama's head at chair 4; Joss has one in prep at 2. */
function seated(rules?: Rules): Head {
  const life = FloorLife.salon(rules);
  life.do({ type: 'AddPerson', name: 'Wilhelmina Aurelia', roles: ['stylist'] }, { id: 'person-wil' });
  life.do({ type: 'AddPerson', name: 'Kit', roles: ['senior', 'manager'] }, { id: 'person-kit' });
  for (const person of ['person-ama', 'person-joss', 'person-wil', 'person-kit']) {
    life.do({ type: 'BeginShift', person }, { by: person });
  }
  life.do({ type: 'ChooseUsualService', service: 'service-1' });
  life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-joss', label: 'Mo' });
  const visit = life.do({ type: 'SeatVisit', chair: CHAIR, service: 'service-1', stylist: 'person-ama', label: 'B.' });
  return { life, visit };
}

function begun(rules?: Rules): Head {
  const head = seated(rules);
  head.life.pass(2);
  head.life.do({ type: 'BeginApplication', chair: CHAIR, visit: head.visit, service: null }, { by: 'person-ama' });
  return head;
}

function parts({ life, visit }: Head, ...minutes: readonly number[]): void {
  for (const one of minutes) {
    life.pass(one);
    life.do({ type: 'MarkPartDone', visit, part: null }, { by: 'person-ama' });
  }
}

function finished(minutes: number, rules?: Rules): Head {
  const head = begun(rules);
  parts(head, minutes / 4, minutes / 4, minutes / 4, minutes / 4);
  return head;
}

function strand({ life, visit }: Head, result: StrandResult): void {
  life.do({ type: 'TestStrand', visit, place: 'first', result, part: null, note: null }, { by: 'person-joss' });
}

const twelve = Array.from({ length: 12 }, (_, n) => ({
  place: defaultParts[n]?.place ?? ('other' as const),
  share: 1 / 12,
  ceilingMs: null,
}));

/** Ama's head, past its time for `rinse` for so many minutes, with whatever was done before. */
function rinsing(minutes: number, before: (head: Head) => void = () => undefined): FloorLife {
  const head = finished(14);
  head.life.pass(12);
  before(head);
  return head.life.pass(1 + minutes);
}

/** What can be looked at, by name. */
export const scenes: Readonly<Record<string, () => FloorLife>> = {
  prep: () => seated().life.pass(4),
  apply: () => {
    const head = begun();
    parts(head, 3.6);
    return head.life.pass(0.05);
  },
  applying: () => {
    const head = begun();
    parts(head, 3.6);
    return head.life.pass(2);
  },
  helped: () => {
    const head = begun();
    parts(head, 3.6);
    head.life.do({ type: 'JoinAsHelper', visit: head.visit, person: 'person-joss' }, { by: 'person-joss' });
    return head.life.pass(1);
  },
  twelve: () => {
    const head = begun(relaxer({ parts: twelve }));
    parts(head, 1.2, 1.3, 1.2);
    return head.life.pass(0.5);
  },
  pace: () => {
    const head = begun();
    parts(head, 8);
    return head.life.pass(0.2);
  },
  paceTaken: () => {
    const head = begun();
    parts(head, 8);
    head.life.do({ type: 'TakeBell', visit: head.visit, chair: null, cause: 'pace' }, { by: 'person-joss' });
    return head.life.pass(0.2);
  },
  noRoomApply: () => {
    const head = begun();
    parts(head, 7, 7);
    return head.life.pass(6);
  },
  noRoom: () => finished(24).life.pass(1),
  forgotten: () => {
    const head = begun();
    parts(head, 4, 4);
    head.life.pass(5);
    head.life.do({ type: 'FinishApplication', visit: head.visit }, { by: 'person-ama' });
    return head.life.pass(1);
  },
  process: () => finished(14, relaxer(tested)).life.pass(2),
  test: () => finished(14, relaxer(tested)).life.pass(5.3),
  testTaken: () => {
    const head = finished(14, relaxer(tested));
    head.life.pass(5.3);
    head.life.do({ type: 'TakeBell', visit: head.visit, chair: null, cause: 'test' }, { by: 'person-ama' });
    return head.life.pass(0.1);
  },
  testParts: () => finished(14, relaxer({ ...tested, manner: 'by-part' })).life.pass(5.3),
  notYet: () => {
    const head = finished(14, relaxer(tested));
    head.life.pass(5.3);
    strand(head, 'not-yet');
    return head.life.pass(1);
  },
  ready: () => {
    const head = finished(14, relaxer(tested));
    head.life.pass(5.3);
    strand(head, 'ready');
    return head.life.pass(0.4);
  },
  begun: () => {
    const { life, visit } = seated();
    life.pass(2);
    life.do({ type: 'SayPrep', visit, complete: true });
    return life.pass(9);
  },
  waterOn: () => {
    const { life, visit } = finished(12);
    life.pass(3);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: null });
    return life.pass(1.7);
  },
  waterOnLate: () => {
    const { life, visit } = finished(12);
    life.pass(12);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: null });
    return life.pass(5);
  },
  rinse: () => {
    const { life, visit } = finished(14);
    life.pass(11);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 }, { by: 'person-joss' });
    return life.pass(0.1);
  },
  minimum: () => {
    const { life, visit } = finished(14);
    life.pass(11);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 }, { by: 'person-joss' });
    return life.pass(6);
  },
  warning: () => finished(14).life.pass(13),
  danger: () => finished(14).life.pass(16),
  burns: () => {
    const { life, visit } = finished(14);
    life.do({ type: 'ReportBurns', chair: CHAIR, visit, place: 'eye' }, { by: 'person-ama' });
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'burns' }, { by: 'person-ama' });
    life.pass(0.5);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 });
    return life.pass(2);
  },
  dry: () => {
    const { life, visit } = finished(14);
    life.pass(11);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 });
    life.do({ type: 'MoveOn', visit, to: 'dry' });
    return life.pass(3);
  },
  long: () => {
    const head = begun(relaxer({ nominalMs: 15 * MINUTE }));
    head.life.do({ type: 'NameStylist', visit: head.visit, stylist: 'person-wil' });
    head.life.do({ type: 'JoinAsHelper', visit: head.visit, person: 'person-wil' });
    parts(head, 3.6);
    return head.life.pass(1);
  },
  rinseDue: () => rinsing(0.3),
  rinseTaken: () => {
    const life = rinsing(0.3);
    const [visit = ''] = Object.values(life.floor.visits).flatMap(({ facts }) =>
      facts.chair === CHAIR ? [facts.id] : [],
    );
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    return life.pass(0.3);
  },
  untaken: () => rinsing(0.9),
  passed: () => {
    const life = rinsing(0.2);
    const [visit = ''] = Object.values(life.floor.visits).flatMap(({ facts }) =>
      facts.chair === CHAIR ? [facts.id] : [],
    );
    life.do({ type: 'PassBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    return life.pass(0.1);
  },
  covered: () =>
    rinsing(0.3, ({ life }) =>
      life.do({ type: 'GoAway', person: 'person-ama', forMs: 15 * MINUTE, cover: 'person-wil' }, { by: 'person-ama' }),
    ),
  away: () => {
    const { life } = finished(14);
    life.do({ type: 'GoAway', person: 'person-ama', forMs: 15 * MINUTE, cover: 'person-wil' }, { by: 'person-ama' });
    return life.pass(1);
  },
  offShift: () => {
    const { life } = finished(14);
    life.do({ type: 'EndShift', person: 'person-ama' }, { by: 'person-ama' });
    return life.pass(1);
  },
  atTheHead: () =>
    rinsing(0.3, ({ life, visit }) => {
      life.do({ type: 'WriteLabel', visit, label: 'Bea' }, { by: 'person-ama' });
      life.do({ type: 'SetHeat', visit, on: false }, { by: 'person-ama' });
    }),
  tingles: () => {
    const { life, visit } = finished(14);
    life.pass(1);
    life.do({ type: 'ReportTingles', visit });
    return life.pass(0.2);
  },
  tinglesLong: () => {
    const { life, visit } = finished(14);
    life.pass(1);
    life.do({ type: 'ReportTingles', visit });
    return life.pass(1.2);
  },
  burnsNew: () => {
    const { life, visit } = finished(14);
    life.do({ type: 'ReportBurns', chair: CHAIR, visit, place: 'skin' }, { by: 'person-ama' });
    return life.pass(0.1);
  },
  help: () => {
    const { life } = finished(14);
    life.do({ type: 'AskHelp', chair: 2 }, { by: 'person-joss' });
    return life.pass(0.2);
  },
  helpTaken: () => {
    const { life } = finished(14);
    life.do({ type: 'AskHelp', chair: 2 }, { by: 'person-joss' });
    life.do({ type: 'TakeBell', visit: null, chair: 2, cause: 'help' }, { by: 'person-kit' });
    return life.pass(0.2);
  },
  offered: () => {
    const { life, visit } = finished(14);
    life.do({ type: 'OfferHead', visit, to: 'person-wil' }, { by: 'person-ama' });
    return life.pass(0.3);
  },
  notSaved: () => {
    const { life } = finished(14);
    life.unsavedSince = life.now;
    return life.pass(0.5);
  },
  backToRinse: () => {
    const { life, visit } = finished(14);
    life.pass(11);
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 });
    life.pass(6);
    life.do({ type: 'ClearAndOff', visit });
    for (const _ of [1, 2, 3, 4]) {
      life.pass(2);
      life.do({ type: 'MarkShampoo', visit, indicator: 'coloured', strip: null }, { seen: life.facts(visit).version });
    }
    return life.pass(4);
  },
  abandoned: () => {
    const { life, visit } = finished(14);
    life.do({ type: 'Abandon', visit }, { by: 'person-joss' });
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'abandoned' }, { by: 'person-ama' });
    return life.pass(0.2);
  },
  nobodyReached: () => {
    const { life } = finished(14);
    life.reach = { nobodySince: life.now, pushOnly: [] };
    return life.pass(1);
  },
  notShown: () => {
    const head = finished(14);
    head.life.reach = { nobodySince: null, pushOnly: [] };
    return head.life.pass(13.3);
  },
  burnsWater: () => {
    const { life, visit } = finished(14);
    life.do({ type: 'ReportBurns', chair: CHAIR, visit, place: 'skin' }, { by: 'person-joss' });
    life.do({ type: 'BeginRinse', chair: CHAIR, visit, basin: 91 }, { by: 'person-joss' });
    return life.pass(2.3);
  },
};

import type { Rules } from '../../../../core/directions/rules.ts';
import type { PersonId } from '../../../../core/ids.ts';
import { perm, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';

/** A salon at work: who is on shift has a phone, unless a scene says that nobody confirms. */
function atWork(rules: Rules = relaxer()): FloorLife {
  const life = FloorLife.salon(rules);
  life.do({ type: 'ChooseUsualService', service: 'service-1' });
  life.do({ type: 'AddPerson', name: 'Maximiliane Featherstonehaugh', roles: ['senior'] }, { id: 'person-max' });
  for (const person of ['person-ama', 'person-joss', 'person-max'])
    life.do({ type: 'BeginShift', person }, { by: person });
  life.reach = { nobodySince: null, pushOnly: [] };
  return life;
}

function begun(rules: Rules = relaxer(), chair = 4): { life: FloorLife; visit: string } {
  const life = atWork(rules);
  const visit = life.do({ type: 'SeatVisit', chair, service: 'service-1', stylist: 'person-ama', label: 'B.' });
  life.do({ type: 'BeginApplication', chair, visit, service: null }, { by: 'person-ama' });
  return { life, visit };
}

/** Whoever holds a phone confirms what stands at that head, or at chair 4. */
function shown(life: FloorLife, visit: string | null, ...people: readonly PersonId[]): void {
  const bells = visit === null ? (life.floor.places[4]?.bells ?? []) : life.facts(visit).bells;
  const chair = visit === null ? 4 : null;
  const receipts = bells.flatMap(({ cause, episode, level }) =>
    people.map((person) => ({ person, bell: { visit, chair, cause, episode, level } })),
  );
  life.receive(receipts);
}

function tingling(rules?: Rules): { life: FloorLife; visit: string } {
  const told = begun(rules);
  told.life.pass(6);
  told.life.do({ type: 'MarkPartDone', visit: told.visit, part: 0 }, { by: 'person-joss' });
  told.life.pass(1);
  told.life.do({ type: 'ReportTingles', visit: told.visit }, { by: 'person-joss' });
  return told;
}

/** Bells at chair 4: what was called for, who comes, who was not reached. */
export const bellScenes: Readonly<Record<string, () => FloorLife>> = {
  tingles: () => tingling().life.pass(0.3),
  tinglesDanger: () => tingling().life.pass(1.2),
  tinglesPerm: () => {
    const { life, visit } = tingling(perm());
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'tingles' }, { by: 'person-ama' });
    return life.pass(0.1);
  },
  help: () => {
    const { life, visit } = begun();
    life.pass(4);
    life.do({ type: 'MarkPartDone', visit, part: 0 }, { by: 'person-ama' });
    life.do({ type: 'AskHelp', chair: 4 }, { by: 'person-ama' });
    return life.pass(0.8);
  },
  helpTaken: () => {
    const { life } = begun();
    life.pass(4);
    life.do({ type: 'AskHelp', chair: 4 }, { by: 'person-ama' });
    shown(life, null, 'person-max');
    life.do({ type: 'TakeBell', visit: null, chair: 4, cause: 'help' }, { by: 'person-max' });
    return life.pass(0.2);
  },
  helpFree: () => {
    const life = atWork();
    life.do({ type: 'AskHelp', chair: 4 }, { by: 'person-ama' });
    return life.pass(0.2);
  },
  missed: () => {
    const { life, visit } = begun();
    life.pass(14);
    life.do({ type: 'FinishApplication', visit }, { by: 'person-ama' });
    life.pass(13);
    return life.pass(0.4);
  },
  carried: () => {
    const { life, visit } = begun();
    life.pass(14);
    life.do({ type: 'FinishApplication', visit }, { by: 'person-ama' });
    life.pass(12);
    shown(life, visit, 'person-ama', 'person-joss');
    life.pass(1);
    life.do({ type: 'PassBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    shown(life, visit, 'person-max');
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' });
    life.pass(0.5);
    return life;
  },
  offered: () => {
    const { life, visit } = begun();
    life.pass(4);
    life.do({ type: 'OfferHead', visit, to: 'person-max' }, { by: 'person-ama' });
    return life.pass(0.5);
  },
  backToRinse: () => {
    const { life, visit } = begun();
    life.pass(14);
    life.do({ type: 'FinishApplication', visit });
    life.pass(12);
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    life.pass(6);
    life.do({ type: 'ClearAndOff', visit });
    for (let n = 0; n < 4; n += 1) {
      life.pass(2.2);
      const { version } = life.facts(visit);
      life.do({ type: 'MarkShampoo', visit, indicator: 'coloured', strip: null }, { seen: version });
    }
    return life.pass(0.3);
  },
  elsewhere: () => {
    const { life } = begun();
    life.pass(3);
    for (const [chair, place] of [
      [2, 'skin'],
      [3, 'eye'],
    ] as const) {
      const visit = life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
      life.pass(1);
      life.do({ type: 'ReportBurns', chair, visit, place }, { by: 'person-joss' });
    }
    return life.pass(0.1);
  },
  /** All of it: burns here, help, burns elsewhere. */
  loud: () => {
    const { life, visit } = begun();
    life.pass(3);
    const other = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    life.do({ type: 'ReportBurns', chair: 2, visit: other, place: 'skin' });
    life.do({ type: 'AskHelp', chair: 4 }, { by: 'person-ama' });
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'eye' });
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    return life.pass(2);
  },
};

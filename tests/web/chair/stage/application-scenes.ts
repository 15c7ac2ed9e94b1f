import type { PartPlace, PartPlan, Rules } from '../../../../core/directions/rules.ts';
import { MINUTE } from '../../../../core/time.ts';
import { relaxer, tested, warmed } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';

const FOUR = 4;
const quarters: readonly PartPlace[] = ['nape-left', 'nape-right', 'front-left', 'front-right'];

function plan(places: readonly PartPlace[]): readonly PartPlan[] {
  return places.map((place) => ({
    place,
    share: 1 / places.length,
    ceilingMs: place === 'hairline' ? 20 * MINUTE : null,
  }));
}

/** So many parts: quarters as far as they go, others between. */
function places(count: number): readonly PartPlace[] {
  if (count === 1) return ['other'];
  if (count === 2) return ['nape-left', 'nape-right'];
  const others = Array.from({ length: Math.max(0, count - 4) }, (): PartPlace => 'other');
  return [...quarters.slice(0, 2), ...others, ...quarters.slice(2)];
}

function prepared(rules: Rules): { life: FloorLife; visit: string } {
  const life = FloorLife.salon(rules);
  life.do({ type: 'AddPerson', name: 'Noor', roles: ['senior'] }, { id: 'person-noor' });
  life.do({ type: 'ChooseUsualService', service: 'service-1' });
  const visit = life.do({
    type: 'SeatVisit',
    chair: FOUR,
    service: 'service-1',
    stylist: 'person-ama',
    label: 'B.',
  });
  life.pass(2);
  return { life, visit };
}

/** Begun, and the parts named done at these minutes after first touch; then on to a minute. */
function applying(rules: Rules, doneAt: readonly number[], now: number): { life: FloorLife; visit: string } {
  const { life, visit } = prepared(rules);
  life.do({ type: 'BeginApplication', chair: FOUR, visit, service: null }, { by: 'person-ama' });
  let gone = 0;
  doneAt.forEach((at, part) => {
    life.pass(at - gone);
    gone = at;
    life.do({ type: 'MarkPartDone', visit, part }, { by: 'person-ama' });
  });
  life.pass(now - gone);
  return { life, visit };
}

const parted = (list: readonly PartPlace[], changes: Partial<Rules> = {}): Rules =>
  relaxer({ parts: plan(list), ...tested, ...changes });

const even = (count: number, all: number): number[] => Array.from({ length: count }, (_, i) => ((i + 1) * all) / count);

const twelve = [...quarters, ...quarters, ...quarters];
const eleven: readonly PartPlace[] = [...Array.from({ length: 11 }, (): PartPlace => 'other'), 'hairline'];
const foils = { manner: 'by-part', class: 'lightener', ...tested } as const;

/** The states of "time on hair": parts, pace, tests, heat, limits, no room, and the questions of prep and rinse. */
export const applicationScenes: Readonly<Record<string, () => FloorLife>> = {
  parts1: () => applying(parted(places(1)), [], 6).life,
  parts2: () => applying(parted(places(2)), [7], 9.4).life,
  parts4: () => applying(parted(quarters), [3.5, 7.2], 8.1).life,
  parts5: () => applying(parted([...quarters, 'hairline']), [3, 6, 9, 12], 13.3).life,
  parts5unmarked: () => applying(parted([...quarters, 'hairline']), [], 6).life,
  parts8: () => applying(parted(places(8)), even(8, 15).slice(0, 5), 10.3).life,
  parts12: () => applying(parted(places(12)), even(12, 15).slice(0, 7), 9.4).life,
  quarters12: () => applying(parted(twelve), even(12, 15).slice(0, 7), 9.4).life,
  rim12: () => applying(parted(eleven), even(12, 15).slice(0, 7), 9.4).life,
  on1: () => applying(parted(places(1)), [14], 18).life,
  on4: () => applying(parted(quarters), even(4, 15), 18).life,
  on5: () => applying(parted([...quarters, 'hairline']), even(5, 15), 18).life,
  on8: () => applying(parted(places(8)), even(8, 15), 22).life,
  on12: () => applying(parted(places(12)), even(12, 15), 22).life,
  onrim12: () => applying(parted(eleven), even(12, 15), 22).life,
  forgot: () => {
    const { life, visit } = applying(parted(quarters), [4, 8], 15);
    life.do({ type: 'FinishApplication', visit }, { by: 'person-ama' });
    return life.pass(3);
  },
  pace: () => applying(relaxer(), [6.4, 13], 14).life,
  helped: () => {
    const { life, visit } = applying(relaxer(), [6.4, 13], 14);
    life.do({ type: 'JoinAsHelper', visit, person: 'person-joss' }, { by: 'person-joss' });
    return life.pass(1.2);
  },
  paceallowed: () => applying(relaxer({ ...warmed, ...tested }), [5, 9.5], 10.2).life,
  testsoon: () => applying(parted(quarters), even(4, 15), 17.5).life,
  testdue: () => applying(parted(quarters), even(4, 15), 20.4).life,
  notyet: () => {
    const { life, visit } = applying(parted(quarters), even(4, 15), 20.4);
    life.do(
      { type: 'TestStrand', visit, place: 'first', result: 'not-yet', part: null, note: null },
      { by: 'person-ama' },
    );
    return life.pass(1);
  },
  ready: () => {
    const { life, visit } = applying(parted(quarters), even(4, 15), 20.4);
    life.do(
      { type: 'TestStrand', visit, place: 'porous', result: 'ready', part: null, note: null },
      { by: 'person-ama' },
    );
    return life.pass(0.5);
  },
  foils: () => applying(parted(places(8), foils), even(8, 15), 19).life,
  foilsready: () => {
    const { life, visit } = applying(parted(places(8), foils), even(8, 15), 20.5);
    life.do({ type: 'TestStrand', visit, place: 'first', result: 'ready', part: 0, note: null });
    return life.pass(0.5);
  },
  foilsnoroom: () => applying(parted(places(8), foils), even(8, 24), 26).life,
  heatwanted: () => applying(parted(quarters, { heat: 'required' }), [3.5], 5).life,
  heatallowed: () => applying(relaxer({ ...warmed, ...tested }), [3.5], 5).life,
  heaton: () => {
    const { life, visit } = applying(relaxer({ ...warmed, ...tested }), [3.5], 5);
    life.do({ type: 'SetHeat', visit, on: true });
    return life.pass(1);
  },
  lowered: () => {
    const { life, visit } = applying(parted(quarters), [3.5], 5);
    life.do({
      type: 'SetLimits',
      visit,
      minAfterMs: 8 * MINUTE,
      maxAfterMs: 12 * MINUTE,
      ceilingMs: 25 * MINUTE,
      reason: null,
    });
    return life.pass(1);
  },
  noroomsoon: () => applying(parted(quarters), [6, 12], 21.2).life,
  noroomon: () => applying(parted(quarters), even(4, 24), 26).life,
  noroomone: () => applying(parted(places(1)), [24], 25).life,
  prepsaid: () => {
    const { life, visit } = prepared(relaxer());
    life.do({ type: 'SayPrep', visit, complete: true }, { by: 'person-ama' });
    return life.pass(1.5);
  },
  begunask: () => {
    const { life, visit } = prepared(relaxer());
    life.do({ type: 'SayPrep', visit, complete: true }, { by: 'person-ama' });
    return life.pass(5.5);
  },
  begunlouder: () => {
    const { life, visit } = prepared(relaxer());
    life.do({ type: 'SayPrep', visit, complete: true }, { by: 'person-ama' });
    return life.pass(11);
  },
  waterask: () => {
    const { life, visit } = applying(parted(quarters), even(4, 15), 17);
    life.do({ type: 'BeginRinse', chair: FOUR, visit, basin: null });
    return life.pass(2);
  },
  wateraskat: () => {
    const { life, visit } = applying(parted(quarters), even(4, 15), 17);
    life.do({ type: 'BeginRinse', chair: FOUR, visit, basin: 91 }, { by: 'person-ama' });
    return life.pass(2);
  },
  wateraskold: () => {
    const { life, visit } = applying(parted(quarters), even(4, 15), 17);
    life.do({ type: 'BeginRinse', chair: FOUR, visit, basin: null });
    return life.pass(14);
  },
};

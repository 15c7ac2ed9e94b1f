import fc from 'fast-check';
import { asks } from '../../core/bells/hearing.ts';
import type { BellMeant, Receipt } from '../../core/bells/receipts.ts';
import type { Command } from '../../core/command.ts';
import type { PersonId } from '../../core/ids.ts';
import { MINUTE } from '../../core/time.ts';
import type { FloorLife } from '../support/floor-life.ts';
import { standingOn, type Standing } from '../../core/bells/subject.ts';
import { acts, floorToLiveOn, perform, type Act } from './lives.ts';

export const staff = ['person-ama', 'person-joss', 'person-sena', 'person-mona'] as const;

/** Something that people and their phones do beside what is done at heads. */
export type Beside =
  | { readonly do: 'receipts'; readonly upTo: number; readonly stale: boolean }
  | { readonly do: 'take' | 'pass' | 'shift' | 'away' | 'offer'; readonly who: PersonId; readonly which: number }
  | { readonly do: 'help' | 'tingles'; readonly chair: number; readonly who: PersonId; readonly end: boolean }
  | { readonly do: 'reach'; readonly nobody: boolean; readonly pushOnly: readonly PersonId[] };

const who = fc.constantFrom(...staff);
const beside: fc.Arbitrary<Beside> = fc.oneof(
  { weight: 4, arbitrary: fc.record({ do: fc.constant('receipts' as const), upTo: fc.nat(4), stale: fc.boolean() }) },
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constantFrom('take' as const, 'pass' as const, 'shift' as const, 'away' as const, 'offer' as const),
      who,
      which: fc.nat(5),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constantFrom('help' as const, 'tingles' as const),
      chair: fc.integer({ min: 1, max: 4 }),
      who,
      end: fc.boolean(),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      do: fc.constant('reach' as const),
      nobody: fc.boolean(),
      pushOnly: fc.subarray([...staff]),
    }),
  },
);

export interface Moment {
  readonly act: Act;
  readonly beside: readonly Beside[];
}

/** Days on which people come and go, are asked, answer or do not. */
export const days = (most: number): fc.Arbitrary<Moment[]> =>
  acts(most).chain((all) =>
    fc
      .array(fc.array(beside, { maxLength: 3 }), { minLength: all.length, maxLength: all.length })
      .map((besides) => all.map((act, i) => ({ act, beside: besides[i] ?? [] }))),
  );

/** The floor of the other lives, with a senior and a manager, everybody on shift and every phone watched. */
export function peopledFloor(): FloorLife {
  const life = floorToLiveOn();
  life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior', 'stylist'] }, { id: 'person-sena' });
  life.do({ type: 'AddPerson', name: 'Mona', roles: ['manager'] }, { id: 'person-mona' });
  for (const person of staff) life.do({ type: 'BeginShift', person });
  life.reach = { nobodySince: null, pushOnly: [] };
  return life;
}

export const standing = (life: FloorLife): readonly Standing[] => standingOn(life.floor);

export function meantBy({ bell: { cause, episode, level }, visit, chair }: Standing): BellMeant {
  return { visit, chair, cause, episode, level };
}

export function live(life: FloorLife, { act, beside: besides }: Moment): void {
  perform(life, act);
  for (const one of besides) doBeside(life, one);
}

function doBeside(life: FloorLife, one: Beside): void {
  if (one.do === 'receipts') return receipts(life, one.upTo, one.stale);
  if (one.do === 'reach') {
    life.reach = { nobodySince: one.nobody ? life.now : null, pushOnly: one.pushOnly };
    return void life.pass(0);
  }
  const command = commandOf(life, one);
  if (command !== null) life.send(command, { by: one.who });
}

function receipts(life: FloorLife, upTo: number, stale: boolean): void {
  const all = standing(life).flatMap((one): Receipt[] =>
    staff
      .filter((person) => asks(one.bell, one.rung, person, life.floor.people, life.now))
      .map((person) => ({ person, bell: { ...meantBy(one), episode: one.bell.episode - (stale ? 1 : 0) } })),
  );
  // Told twice, the later first: as a bad line delivers them.
  life.receive([...all.slice(0, upTo), ...all.slice(0, upTo)].reverse());
}

function commandOf(life: FloorLife, one: Exclude<Beside, { do: 'receipts' | 'reach' }>): Command | null {
  if ('chair' in one) return aboutChair(life, one);
  const person = one.who;
  if (one.do === 'shift') {
    const on = life.floor.people[person]?.shift !== null;
    return on ? { type: 'EndShift', person } : { type: 'BeginShift', person };
  }
  if (one.do === 'away') {
    const cover = staff[one.which % staff.length] ?? null;
    return { type: 'GoAway', person, forMs: (1 + one.which) * MINUTE, cover: cover === person ? null : cover };
  }
  const bells = standing(life);
  if (one.do === 'offer') {
    const visit = Object.keys(life.floor.visits)[one.which];
    return visit === undefined ? null : { type: 'OfferHead', visit, to: person };
  }
  const bell = bells[one.which % Math.max(1, bells.length)];
  if (bell === undefined) return null;
  const { visit, chair } = bell;
  return { type: one.do === 'take' ? 'TakeBell' : 'PassBell', visit, chair, cause: bell.bell.cause };
}

function aboutChair(life: FloorLife, one: Extract<Beside, { readonly chair: number }>): Command | null {
  const { chair, end } = one;
  if (one.do === 'help') return end ? { type: 'EndHelp', chair, how: 'here' } : { type: 'AskHelp', chair };
  const visit = Object.values(life.floor.visits).find(({ facts }) => facts.chair === chair)?.facts.id;
  if (visit === undefined) return null;
  return end ? { type: 'AnswerTingles', visit, answer: 'eased' } : { type: 'ReportTingles', visit };
}

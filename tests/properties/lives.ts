import fc from 'fast-check';
import type { Command, Sender } from '../../core/command.ts';
import type { Answer } from '../../core/refusal.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import { strandPlaces } from '../../core/visit/visit.ts';
import { moveOnTargets } from '../../core/visit/commands/command.ts';
import { colour, perm, relaxer, tested, warmed } from '../support/directions-kit.ts';
import { FloorLife } from '../support/floor-life.ts';
import { addService } from '../support/pass-kit.ts';

/** What somebody may do: a command about whoever is meant when its turn comes. */
export interface Act {
  /** Seconds that pass before it. */
  readonly waitS: number;
  readonly chair: number;
  /** Which visit is meant: the one at the chair, or the nth of all that ever were. */
  readonly which: number | null;
  readonly seen: 'now' | 'before' | 'none';
  /** Seconds ago that it happened; null: now. */
  readonly agoS: number | null;
  readonly by: 'person-ama' | 'person-joss' | null;
  readonly say: (context: { chair: number; visit: string | null; life: FloorLife }) => Command | null;
}

type Say = Act['say'];
const onVisit =
  (make: (visit: string, life: FloorLife) => Command): Say =>
  ({ visit, life }) =>
    visit === null ? null : make(visit, life);

const services = ['service-1', 'service-perm', 'service-colour', 'service-two', 'service-foils'] as const;
const service = fc.constantFrom<string | null>(null, ...services);

const someone = fc.constantFrom('person-ama', 'person-joss', null);
const someMinutes = (most: number) => fc.option(fc.nat(most).map((one) => one * MINUTE));

const says: { weight: number; arbitrary: fc.Arbitrary<Say> }[] = [
  {
    weight: 2,
    arbitrary: service.map((one): Say => ({ chair }) => ({
      type: 'SeatVisit',
      chair,
      service: one,
      stylist: null,
      label: null,
    })),
  },
  {
    weight: 6,
    arbitrary: fc.tuple(fc.boolean(), service).map(([named, one]): Say => ({ chair, visit }) => ({
      type: 'BeginApplication',
      chair,
      visit: named ? visit : null,
      service: one,
    })),
  },
  {
    weight: 5,
    arbitrary: fc.option(fc.nat(4)).map((part) => onVisit((visit) => ({ type: 'MarkPartDone', visit, part }))),
  },
  { weight: 4, arbitrary: fc.constant(onVisit((visit) => ({ type: 'FinishApplication', visit }))) },
  {
    weight: 1,
    arbitrary: fc.boolean().map((complete) => onVisit((visit) => ({ type: 'SayPrep', visit, complete }))),
  },
  { weight: 3, arbitrary: someone.map((person) => onVisit((visit) => ({ type: 'JoinAsHelper', visit, person }))) },
  { weight: 2, arbitrary: someone.map((person) => onVisit((visit) => ({ type: 'LeaveAsHelper', visit, person }))) },
  {
    weight: 3,
    arbitrary: fc
      .tuple(
        fc.constantFrom(...strandPlaces),
        fc.constantFrom('ready' as const, 'not-yet' as const),
        fc.option(fc.nat(4)),
      )
      .map(([place, result, part]) =>
        onVisit((visit) => ({ type: 'TestStrand', visit, place, result, part, note: null })),
      ),
  },
  { weight: 2, arbitrary: fc.boolean().map((on) => onVisit((visit) => ({ type: 'SetHeat', visit, on }))) },
  {
    weight: 2,
    arbitrary: fc
      .tuple(someMinutes(15), someMinutes(20), someMinutes(35))
      .map(([minAfterMs, maxAfterMs, ceilingMs]) =>
        onVisit((visit) => ({ type: 'SetLimits', visit, minAfterMs, maxAfterMs, ceilingMs, reason: 'said so' })),
      ),
  },
  {
    weight: 5,
    arbitrary: fc
      .tuple(fc.boolean(), fc.constantFrom(null, 91, 92))
      .map(([named, basin]): Say => ({ chair, visit }) => ({
        type: 'BeginRinse',
        chair,
        visit: named ? visit : null,
        basin,
      })),
  },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'NameBasin', visit, basin: 92 }))) },
  { weight: 5, arbitrary: fc.constant(onVisit((visit) => ({ type: 'ClearAndOff', visit }))) },
  {
    weight: 4,
    arbitrary: fc
      .constantFrom('colourless' as const, 'coloured' as const, null)
      .map((indicator) => onVisit((visit) => ({ type: 'MarkShampoo', visit, indicator, strip: null }))),
  },
  { weight: 3, arbitrary: fc.constant(onVisit((visit) => ({ type: 'PutNeutralizerOn', visit }))) },
  { weight: 2, arbitrary: fc.constant(onVisit((visit) => ({ type: 'TakeRodsOut', visit }))) },
  {
    weight: 6,
    arbitrary: fc.constantFrom(...moveOnTargets).map((to) => onVisit((visit) => ({ type: 'MoveOn', visit, to }))),
  },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 1, max: 4 }).map((chair) => onVisit((visit) => ({ type: 'MoveTo', visit, chair }))),
  },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'Abandon', visit }))) },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'Discard', visit }))) },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'SettleAbandoned', visit }))) },
  {
    weight: 1,
    arbitrary: fc
      .constantFrom('skin' as const, 'eye' as const)
      .map((place): Say => ({ chair, visit }) => ({ type: 'ReportBurns', chair, visit, place })),
  },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'CloseBurns', visit, done: 'eased' }))) },
  { weight: 2, arbitrary: fc.constant(onVisit((visit) => ({ type: 'TakeBell', visit, chair: null, cause: 'off' }))) },
  { weight: 3, arbitrary: fc.constant(onVisit((visit) => ({ type: 'TakeBack', visit }))) },
  {
    weight: 3,
    arbitrary: fc.tuple(fc.nat(20), fc.integer({ min: -600, max: 600 })).map(([nth, byS]) =>
      onVisit((visit, life) => {
        const history = life.floor.visits[visit]?.history ?? [];
        const entry = history[nth % Math.max(1, history.length)];
        const to = (entry?.at ?? life.now) + byS * SECOND;
        return { type: 'CorrectTime', visit, of: entry?.version ?? 0, to, reason: 'said so' };
      }),
    ),
  },
  { weight: 1, arbitrary: fc.constant(onVisit((visit) => ({ type: 'NameStylist', visit, stylist: 'person-ama' }))) },
];

const act: fc.Arbitrary<Act> = fc.record({
  waitS: fc.oneof(fc.constantFrom(0, 0, 1, 60, 120, 180, 300), fc.nat(900)),
  chair: fc.integer({ min: 1, max: 2 }),
  which: fc.oneof({ weight: 6, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: fc.nat(9) }),
  seen: fc.oneof(
    { weight: 6, arbitrary: fc.constant('now' as const) },
    { weight: 1, arbitrary: fc.constantFrom('before' as const, 'none' as const) },
  ),
  agoS: fc.oneof({ weight: 8, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: fc.nat(2400) }),
  by: fc.constantFrom('person-ama', 'person-joss', null),
  say: fc.oneof(...says),
});

/** Sequences of acts at two chairs, up to so many. */
export const acts = (maxLength: number): fc.Arbitrary<Act[]> => fc.array(act, { minLength: 1, maxLength, size: 'max' });

/** A floor that sells a relaxer, a perm, a colour without a ceiling, a lightener with a toner after it, and foils. */
export function floorToLiveOn(): FloorLife {
  const life = FloorLife.salon();
  addService(life, 'service-perm', [perm()], [{ stage: 'process', limitMs: 20 * MINUTE }]);
  addService(life, 'service-colour', [colour()]);
  addService(life, 'service-two', [relaxer({ class: 'lightener', finishing: [] }), colour()]);
  addService(life, 'service-foils', [relaxer({ ...tested, ...warmed, class: 'lightener', manner: 'by-part' })]);
  return life;
}

/** The visit that an act means now. */
export function meant(life: FloorLife, { chair, which }: Act): string | null {
  const all = Object.keys(life.floor.visits);
  if (which !== null) return all[which % Math.max(1, all.length)] ?? null;
  return all.find((id) => life.facts(id).chair === chair && life.facts(id).stage !== 'finished') ?? all.at(-1) ?? null;
}

/** Does one act; null where there is nobody to do it to. */
export function perform(life: FloorLife, one: Act): { command: Command; answer: Answer } | null {
  life.pass(one.waitS / 60);
  const visit = meant(life, one);
  const command = one.say({ chair: one.chair, visit, life });
  if (command === null) return null;
  const version = visit === null ? null : life.facts(visit).version;
  const seen = version === null || one.seen === 'none' ? null : version - (one.seen === 'before' ? 1 : 0);
  const happenedAt = one.agoS === null ? null : life.now - one.agoS * SECOND;
  const sender: Partial<Sender> = { by: one.by, seen, happenedAt };
  return { command, answer: life.send(command, sender) };
}

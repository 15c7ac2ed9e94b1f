import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { actedFor, isCall, othersHearAfter, takenFor, widenReasons, type BellCause } from '../../core/bells/bell.ts';
import { audienceOf } from '../../core/bells/circles.ts';
import { bellsDue, nextBellAt } from '../../core/bells/due.ts';
import { beginMute, muteKey, mutes } from '../../core/bells/mute.ts';
import { soundingOf } from '../../core/bells/sounding.ts';
import type { FloorBellEvent, FloorEventType, Recorded } from '../../core/events.ts';
import { SECOND } from '../../core/time.ts';
import { bellSteps, type BellStepEvent } from '../../core/visit/events.ts';
import type { FloorLife } from '../support/floor-life.ts';
import { days, live, peopledFloor, staff, standing } from './peopled-lives.ts';

const RUNS = { numRuns: 60 };
// A second or two each on an idle machine; a busy one may take its time.
vi.setConfig({ testTimeout: 240_000 });

interface Step {
  readonly subject: string;
  readonly event: BellStepEvent;
  readonly recorded: Recorded;
}

/** Steps of bells as the log has them, whoever's they are. */
function stepsOf(log: readonly Recorded[]): Step[] {
  return log.flatMap((recorded) => {
    const onFloor = recorded.event.type.startsWith('Floor');
    const type = onFloor ? recorded.event.type.slice('Floor'.length) : recorded.event.type;
    if (!(bellSteps as readonly string[]).includes(type)) return [];
    const chair = onFloor ? (recorded.event as FloorBellEvent).chair : null;
    const subject = onFloor ? (chair === null ? 'floor' : `chair/${chair}`) : recorded.stream;
    return [{ subject, event: { ...recorded.event, type } as BellStepEvent, recorded }];
  });
}

const subjectOf = ({ visit, chair }: { visit: string | null; chair: number | null }): string =>
  visit !== null ? `visit/${visit}` : chair === null ? 'floor' : `chair/${chair}`;

const day = (most: number, look: (life: FloorLife) => void) =>
  fc.property(days(most), (moments) => {
    const life = peopledFloor();
    for (const one of moments) {
      live(life, one);
      look(life);
    }
  });

describe('bells that are carried', () => {
  it('[R9] the days below hold every step that a bell can take', () => {
    const seen = new Set<string>();
    for (const moments of fc.sample(days(40), { numRuns: 60, seed: 5 })) {
      const life = peopledFloor();
      for (const one of moments) live(life, one);
      for (const { event } of stepsOf(life.log)) seen.add('why' in event ? `${event.type} ${event.why}` : event.type);
    }
    expect([...bellSteps].filter((type) => ![...seen].some((one) => one.startsWith(type)))).toEqual([]);
    expect(widenReasons.filter((why) => !seen.has(`BellWidened ${why}`))).toEqual([]);
  });

  it('[R8] none is lost and none is doubled: by the log each episode rings upwards, ends once, and what has not ended stands', () => {
    fc.assert(
      fc.property(days(30), (moments) => {
        const life = peopledFloor();
        for (const one of moments) live(life, one);
        const open = new Map<string, { episode: number; rank: string[] }>();
        for (const { subject, event } of stepsOf(life.log)) {
          const key = `${subject}/${event.cause}`;
          const now = open.get(key);
          if (event.type === 'BellRung') {
            const row = `${event.kind} ${event.level}`;
            if (now !== undefined) expect(event.episode).toBe(now.episode);
            expect(now?.rank ?? []).not.toContain(row);
            open.set(key, { episode: event.episode, rank: [...(now?.rank ?? []), row] });
          } else {
            expect(now, `${key} ${event.type}`).toBeDefined();
            if ('episode' in event) expect(event.episode).toBe(now?.episode);
            if (event.type === 'BellEnded') open.delete(key);
          }
        }
        const stands = standing(life).map((one) => `${subjectOf(one)}/${one.bell.cause}`);
        expect([...stands].sort()).toEqual([...open.keys()].sort());
      }),
      RUNS,
    );
  });

  it('[R1] asked again there is nothing, and nothing falls due between now and the next instant told', () => {
    fc.assert(
      day(25, (life) => {
        const outside = { unsavedSince: null, reach: life.reach };
        expect(bellsDue(life.floor, life.now, outside)).toEqual([]);
        const next = nextBellAt(life.floor, life.now, outside);
        // A shift, an absence or a cover that ends by itself empties a circle unseen: the look at least once a minute finds it (T7).
        const before = next === null ? life.now + 59 * SECOND : Math.min(next - 1, life.now + 59 * SECOND);
        const due = bellsDue(life.floor, before, outside);
        expect(due.filter((step) => !(step.do === 'widen' && step.why === 'nobody-there'))).toEqual([]);
      }),
      RUNS,
    );
  });

  it('[R6] a circle only grows within an episode, and never beyond the managers', () => {
    fc.assert(
      fc.property(days(30), (moments) => {
        const life = peopledFloor();
        for (const one of moments) live(life, one);
        const far = new Map<string, number>();
        for (const { subject, event } of stepsOf(life.log)) {
          const key = `${subject}/${event.cause}`;
          if (event.type === 'BellEnded') far.delete(key);
          if (event.type !== 'BellRung' && event.type !== 'BellWidened') continue;
          if (event.type === 'BellWidened') expect(event.circle).toBeGreaterThan(far.get(key) ?? 0);
          expect(event.circle).toBeGreaterThanOrEqual(far.get(key) ?? 0);
          expect(event.circle).toBeLessThanOrEqual(2);
          far.set(key, event.circle);
        }
      }),
      RUNS,
    );
  });

  it('[R3] DANGER that nobody has taken always sounds: in the room, and for everybody asked who is not at that very head', () => {
    fc.assert(
      day(30, (life) => {
        for (const { bell, rung } of standing(life)) {
          if (bell.level !== 'DANGER' || bell.taken !== null) continue;
          expect(soundingOf(bell, 'room', rung.acts, life.now)).not.toBeNull();
          for (const person of audienceOf(bell, rung.owner, life.floor.people, life.now)) {
            const there = rung.acts.some(
              (act) => act.by === person && act.at >= bell.dueAt && act.at > life.now - actedFor,
            );
            expect(soundingOf(bell, person, rung.acts, life.now) === null).toBe(there);
          }
        }
      }),
      RUNS,
    );
  });

  it('[R3] a bell is quiet only for a reason that runs out: taken, or somebody is there', () => {
    fc.assert(
      day(30, (life) => {
        for (const { bell, rung } of standing(life)) {
          if (bell.level === 'NOTICE' || bell.kind === 'burns') continue;
          if (soundingOf(bell, 'room', rung.acts, life.now) !== null) continue;
          const taken = bell.taken !== null && life.now < bell.taken.at + takenFor[bell.level];
          const young = bell.soundAt !== null && life.now < bell.soundAt + othersHearAfter;
          const there = rung.acts.some((act) => act.at > life.now - actedFor);
          expect(taken || (young && there && !isCall(bell.kind) && bell.level !== 'DANGER')).toBe(true);
          // With nobody touching anything it sounds again, at the latest when both have run out.
          const later = Math.max(...[bell.taken?.at ?? 0, bell.soundAt ?? 0]) + takenFor.WARNING;
          expect(soundingOf(bell, 'room', rung.acts, Math.max(later, life.now))).not.toBeNull();
        }
      }),
      RUNS,
    );
  });

  it('[R4] a mute hides nothing, spares DANGER and whatever comes later, and is over after two minutes', () => {
    fc.assert(
      fc.property(days(20), fc.nat(600), fc.nat(200), (moments, forS, afterS) => {
        const life = peopledFloor();
        for (const one of moments.slice(0, 12)) live(life, one);
        const keyed = () =>
          standing(life).map((one) => ({
            key: muteKey(subjectOf(one), one.bell),
            level: one.bell.level,
            bell: one.bell,
          }));
        const mute = beginMute(keyed(), life.now, forS * SECOND);
        const began = life.now;
        const stood = new Set(keyed().map(({ key }) => key));
        for (const one of moments.slice(12)) live(life, one);
        life.pass(afterS / 60);
        for (const { key, level } of keyed()) {
          if (!mutes(mute, key, level, life.now)) continue;
          expect(level).not.toBe('DANGER');
          expect(stood.has(key)).toBe(true);
          expect(life.now - began).toBeLessThan(120 * SECOND);
        }
      }),
      RUNS,
    );
  });

  it('[R7] nobody is marked who is there, has taken it or has it before their eyes; a receipt counts once', () => {
    fc.assert(
      fc.property(days(30), (moments) => {
        const life = peopledFloor();
        for (const one of moments) live(life, one);
        const shown = new Set<string>();
        for (const { subject, event } of stepsOf(life.log)) {
          const key = `${subject}/${event.cause}`;
          if (event.type === 'BellRung') {
            for (const one of [...shown])
              if (one.startsWith(`${key}/`) && !one.endsWith(event.level)) shown.delete(one);
          }
          if (event.type === 'BellEnded')
            for (const one of [...shown]) if (one.startsWith(`${key}/`)) shown.delete(one);
          if (event.type !== 'BellShown' && event.type !== 'BellNotReached') continue;
          const receipt = `${key}/${event.person}/${event.level}`;
          expect(shown.has(receipt), receipt).toBe(false);
          if (event.type === 'BellShown') shown.add(receipt);
          expect(staff as readonly string[]).toContain(event.person);
        }
      }),
      RUNS,
    );
  });

  it('[R2] every bell ends by something of its row, never by being cleared away', () => {
    fc.assert(
      fc.property(days(40), (moments) => {
        const life = peopledFloor();
        for (const one of moments) live(life, one);
        for (const { subject, event, recorded } of stepsOf(life.log)) {
          if (event.type !== 'BellEnded' || !subject.startsWith('visit/')) continue;
          // What was done at that head in the same turn, or the time that passed, is what ended it.
          const cause = life.log.filter((one) => one.stream === subject && one.seq < recorded.seq).at(-1);
          const last = lastAct(life.log, subject, recorded.seq);
          expect(cause).toBeDefined();
          expect(allowedEnds[event.cause], `${event.cause} ended by ${last}`).toContain(last);
        }
      }),
      RUNS,
    );
  });
});

/** The last thing at that head that was no step of a bell. */
function lastAct(log: readonly Recorded[], stream: string, before: number): FloorEventType | undefined {
  const acts = log.filter((one) => one.stream === stream && one.seq < before);
  return acts.filter(({ event }) => !(bellSteps as readonly string[]).includes(event.type)).at(-1)?.event.type;
}

const corrections = ['TimeCorrected', 'MoveTakenBack', 'VisitEnded', 'MovedOn', 'WentClear', 'BurnsReported'] as const;
const water = ['RinseBegun', ...corrections] as const;

/** What may end each cause of a head, written from the table (R2): what its row says, a correction, or the stage it was about being left. */
const allowedEnds: Readonly<Partial<Record<BellCause, readonly string[]>>> = {
  'begun?': ['ApplicationBegun', 'PrepSaid', 'ServiceChosen', ...water],
  pace: [
    'PartMarkedDone',
    'ApplicationFinished',
    'HelperJoined',
    'HelperLeft',
    'StrandTested',
    'LimitsSet',
    'HeatSet',
    ...water,
  ],
  test: ['StrandTested', 'LimitsSet', 'HeatSet', ...water],
  off: ['StrandTested', 'LimitsSet', 'HeatSet', 'PartMarkedDone', 'ServiceChosen', ...water],
  neutralizer: ['RodsTakenOut', 'NeutralizerPutOn', ...water],
  'water-on?': ['BasinNamed', 'ClearAndOff', 'LimitsSet', ...water],
  water: [...water],
  dwell: ['ShampooMarked', 'NeutralizerPutOn', 'RodsTakenOut', ...water],
  'back-to-rinse': ['ShampooMarked', ...water],
  'long-stage': [
    'ApplicationBegun',
    'ApplicationFinished',
    'PartMarkedDone',
    'StrandTested',
    'ServiceChosen',
    ...water,
  ],
  unattended: ['AttendedSaid', ...water],
  tingles: ['TinglesAnswered', ...water],
  burns: ['BurnsClosed', 'MoveTakenBack', 'TimeCorrected'],
  abandoned: ['AbandonedSettled', 'MoveTakenBack', 'TimeCorrected'],
};

import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import { bellsDue, nextBellAt } from '../../core/bells/due.ts';
import { evolve } from '../../core/evolve.ts';
import { emptyFloor, openVisits } from '../../core/floor.ts';
import type { VisitEvent } from '../../core/visit/events.ts';
import { indexOnWay, itinerary } from '../../core/visit/stages/stage.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import type { FloorLife } from '../support/floor-life.ts';
import { acts, floorToLiveOn, meant, perform, type Act } from './lives.ts';

const RUNS = { numRuns: 100 };

// A second or two each on an idle machine; a busy one may take its time.
vi.setConfig({ testTimeout: 180_000 });
/** Where on its way a visit is; the end comes after all, in whichever pass it came. */
const place = (facts: VisitFacts): number =>
  facts.stage === 'finished' ? itinerary(facts.passes).length - 1 : indexOnWay(itinerary(facts.passes), facts);

/** Lives through the acts, and looks at the floor before and after each of them. */
function living(sequence: readonly Act[], look: (life: FloorLife, one: Act, doIt: () => void) => void): FloorLife {
  const life = floorToLiveOn();
  for (const one of sequence) look(life, one, () => perform(life, one));
  return life;
}

describe('folding', () => {
  it('[R8] in two halves equals folding at once, wherever the log is cut', () => {
    fc.assert(
      fc.property(acts(40), fc.double({ min: 0, max: 1, noNaN: true }), (sequence, cutAt) => {
        const life = living(sequence, (_life, _one, doIt) => doIt());
        const cut = Math.floor(cutAt * life.log.length);
        const half = life.log.slice(0, cut).reduce(evolve, emptyFloor);
        // What is stored and read again is the same: a floor is plain data.
        const read = structuredClone(half);
        const whole = life.log.slice(cut).reduce(evolve, read);
        expect(whole).toEqual(life.log.reduce(evolve, emptyFloor));
        expect({ ...whole, words: life.floor.words }).toEqual(life.floor);
      }),
      RUNS,
    );
  });

  it('[S9] one chair holds one open visit at most', () => {
    fc.assert(
      fc.property(acts(40), (sequence) => {
        living(sequence, (life, _one, doIt) => {
          doIt();
          const chairs = openVisits(life.floor).map((facts) => facts.chair);
          expect(new Set(chairs).size).toBe(chairs.length);
        });
      }),
      RUNS,
    );
  });
});

describe('the way of a visit', () => {
  /** What may take a visit back on its way (S2, S6, X1, X2). */
  const backward: readonly VisitEvent['type'][] = ['MoveTakenBack', 'TimeCorrected', 'RinseBegun', 'BurnsReported'];

  it('[S4] goes back only by take-back, correction, water on or burns; what it skips is not marked', () => {
    fc.assert(
      fc.property(acts(40), (sequence) => {
        const life = living(sequence, (_life, _one, doIt) => doIt());
        let floor = emptyFloor;
        for (const recorded of life.log) {
          const id = recorded.stream.startsWith('visit/') ? recorded.stream.slice(6) : null;
          const before = id === null ? undefined : floor.visits[id]?.facts;
          floor = evolve(floor, recorded);
          const after = id === null ? undefined : floor.visits[id]?.facts;
          if (before === undefined || after === undefined || recorded.event.type === 'ServiceChosen') continue;
          const [from, to] = [place(before), place(after)];
          if (to < from) expect(backward).toContain(recorded.event.type);
          // Who leaves, or is discarded or taken back, skips nothing; nor does a client who never began (S9).
          const leaves = after.end !== null && after.end !== 'done' && after.end !== 'next-seated';
          const never = after.end !== null && from === 0;
          if (to <= from + 1 || leaves || never || recorded.event.type === 'MoveTakenBack') continue;
          const owed = after.owed.map((one) => `${one.stage}${one.pass}`);
          const way = itinerary(after.passes);
          for (const step of way.slice(from + 1, to)) {
            // A begin that is unknown stands for the whole of apply and process.
            const stage = step.stage === 'process' && after.passes[step.pass]?.beginUnknown ? 'apply' : step.stage;
            const emergency = recorded.event.type === 'BurnsReported';
            if (!emergency) expect(owed).toContain(`${stage}${step.pass}`);
          }
        }
      }),
      RUNS,
    );
  });
});

describe('water on', () => {
  it('[S2] is accepted from every state that can be reached, no visit included', () => {
    fc.assert(
      fc.property(acts(30), fc.integer({ min: 1, max: 4 }), (sequence, chair) => {
        const life = living(sequence, (_life, _one, doIt) => doIt());
        const at = openVisits(life.floor).find((facts) => facts.chair === chair);
        const answer = life.send(
          { type: 'BeginRinse', chair, visit: at?.id ?? null, basin: 91 },
          { seen: at?.version ?? null },
        );
        expect(answer.outcome).toBe('done');
        const late = life.send({ type: 'BeginRinse', chair, visit: at?.id ?? null, basin: 91 });
        expect(late).toMatchObject({ outcome: 'refused', code: 'already-done' });
      }),
      RUNS,
    );
  });
});

describe('bells', () => {
  it('[R1] asked twice, nothing is to be done the second time', () => {
    fc.assert(
      fc.property(acts(30), (sequence) => {
        living(sequence, (life, _one, doIt) => {
          doIt();
          expect(bellsDue(life.floor, life.now, null)).toEqual([]);
        });
      }),
      RUNS,
    );
  });

  it('[T7] the next bell lies after now, and nothing falls due before it', () => {
    fc.assert(
      fc.property(acts(30), fc.double({ min: 0, max: 1, noNaN: true }), (sequence, share) => {
        living(sequence, (life, _one, doIt) => {
          doIt();
          const next = nextBellAt(life.floor, life.now);
          const until = next ?? life.now + 24 * 3_600_000;
          expect(until).toBeGreaterThan(life.now);
          for (const at of [until - 1, life.now + Math.floor(share * (until - 1 - life.now))]) {
            expect(bellsDue(life.floor, at, null)).toEqual([]);
          }
        });
      }),
      RUNS,
    );
  });

  it('[R2] never flutter: none ends and rings again at one instant, and no level falls', () => {
    fc.assert(
      fc.property(acts(40), (sequence) => {
        const life = living(sequence, (_life, _one, doIt) => doIt());
        const ended = new Map<string, number>();
        const level = new Map<string, number>();
        const rank = ['NOTICE', 'CAUTION', 'WARNING', 'DANGER'];
        for (const { stream, seq, at, command, event } of life.log) {
          if (event.type === 'BellEnded') ended.set(`${stream} ${event.cause} ${at}`, seq);
          if (event.type !== 'BellRung') continue;
          const before = ended.get(`${stream} ${event.cause} ${at}`);
          // Two touches in the same second may end a bell and begin it anew; without a touch between them nothing may.
          const between = life.log.filter((one) => before !== undefined && one.seq > before && one.seq < seq);
          if (before !== undefined) expect(between.some((one) => one.command !== null)).toBe(true);
          expect(command).toBeNull();
          const episode = `${stream} ${event.cause} ${event.episode}`;
          expect(rank.indexOf(event.level)).toBeGreaterThanOrEqual(level.get(episode) ?? 0);
          level.set(episode, rank.indexOf(event.level));
        }
      }),
      RUNS,
    );
  });

  it('[R2] episodes of a cause count on, one by one', () => {
    fc.assert(
      fc.property(acts(40), (sequence) => {
        const life = living(sequence, (_life, _one, doIt) => doIt());
        const last = new Map<string, number>();
        for (const { stream, event } of life.log) {
          if (event.type !== 'BellRung') continue;
          const key = `${stream} ${event.cause}`;
          expect([last.get(key) ?? 0, (last.get(key) ?? 0) + 1]).toContain(event.episode);
          last.set(key, event.episode);
        }
      }),
      RUNS,
    );
  });
});

describe('taking back', () => {
  const bare = (facts: VisitFacts) => ({ ...facts, version: 0, bells: [], episodes: [], lastMove: null });

  it('[X2] restores the facts before, version, bells and the last move aside', () => {
    let restored = 0;
    fc.assert(
      fc.property(acts(40), (sequence) => {
        living(sequence, (life, one, doIt) => {
          life.pass(one.waitS / 60);
          const visit = meant(life, one);
          const before = visit === null ? null : life.facts(visit);
          const count = life.log.length;
          perform(life, { ...one, waitS: 0 });
          if (before === null || life.log.length === count) return doIt();
          const after = life.facts(before.id);
          const moved = life.log
            .slice(count)
            .some((entry) => entry.stream === `visit/${before.id}` && entry.command !== null);
          if (!moved || after.lastMove === null || after.lastMove.version <= before.version) return;
          const answer = life.send({ type: 'TakeBack', visit: before.id }, { seen: after.version });
          if (answer.outcome !== 'done') return expect(answer.code).toBe('place-taken');
          restored += 1;
          expect(bare(life.facts(before.id))).toEqual(bare(before));
        });
      }),
      RUNS,
    );
    expect(restored).toBeGreaterThan(RUNS.numRuns);
  });
});

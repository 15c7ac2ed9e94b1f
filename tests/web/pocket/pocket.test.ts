import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { buzzAt } from '../../../web/src/pocket/buzz.ts';
import { canBeRung, soundSaid, type Reach } from '../../../web/src/pocket/can-be-rung.ts';
import { dueAt, headsOf } from '../../../web/src/pocket/due-order.ts';
import { owing } from '../../../web/src/pocket/owed-list.ts';
import { bellKey, onScreen, ringing, takenTogether } from '../../../web/src/pocket/ringing.ts';
import { WakeLock } from '../../../web/src/pocket/wake-lock.svelte.ts';
import { onTheHair } from '../../../web/src/sheet/on-the-hair.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';

function begin(life: FloorLife, chair: number, stylist: string | null): string {
  const visit = life.do({ type: 'SeatVisit', chair, service: 'service-1', stylist, label: null });
  life.do({ type: 'BeginApplication', chair, visit, service: null });
  return visit;
}

/** Chair 4 (Ama) began at noon, 2 (Joss) 5 min later, 1 (Ama) 10 min later; each was applied within 15. */
function floor(): FloorLife {
  const life = FloorLife.salon();
  const four = begin(life, 4, AMA);
  life.at(5);
  const two = begin(life, 2, JOSS);
  life.at(10);
  const one = begin(life, 1, AMA);
  for (const [minute, visit] of [
    [15, four],
    [20, two],
    [25, one],
  ] as const) {
    life.at(minute);
    life.do({ type: 'FinishApplication', visit });
  }
  return life;
}

const staged = (life: FloorLife) => new StagedSession(life);
const chairs = (list: readonly { number: number }[]): number[] => list.map(({ number }) => number);

describe('heads on a phone', () => {
  it('[V1] are mine first, then the others, each by what is due next', () => {
    const { mirror, context } = staged(floor());
    const { mine, others } = headsOf(AMA, mirror.chairs, context);
    expect(chairs(mine)).toEqual([4, 1]);
    expect(chairs(others)).toEqual([2]);
    expect(chairs(headsOf(null, mirror.chairs, context).others)).toEqual([4, 2, 1]);
  });
  it('[R2] a bell that stands comes before what is only nearer', () => {
    const life = floor();
    life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    const two = Object.values(life.floor.visits).find(({ facts }) => facts.chair === 2)?.facts.id ?? '';
    life.do({ type: 'BeginRinse', chair: 2, visit: two, basin: 92 });
    life.at(27);
    const { mirror, context } = staged(life);
    // The rinse minimum at 2 is reached in 3 min, as is the close at 4; the bell decides.
    expect(chairs(headsOf(AMA, mirror.chairs, context).mine)).toEqual([4, 1]);
    expect(chairs(headsOf(null, mirror.chairs, context).others)).toEqual([4, 2, 1, 3]);
  });
  it('[V1] a head past its time is due now, one without a number last', () => {
    const life = FloorLife.salon();
    const water = life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    life.do({ type: 'ReportBurns', chair: 3, visit: water, place: 'eye' });
    const prep = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
    const { context } = staged(life);
    expect(dueAt(life.facts(water), context)).toBe(Number.NEGATIVE_INFINITY);
    expect(dueAt(life.facts(prep), context)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('the bell that fills the screen', () => {
  const none: readonly string[] = [];
  function rung(minutes: number) {
    const life = floor().at(minutes);
    return { life, bells: staged(life).mirror.bells };
  }

  it('[R5] is one that sounds: NOTICE never', () => {
    const { life, bells } = rung(25);
    expect(bells.length).toBeGreaterThan(0);
    expect(ringing(bells, AMA, none, life.now)).toBeNull();
    const later = rung(27);
    expect(ringing(later.bells, AMA, none, later.life.now)).toMatchObject({
      bell: { kind: 'rinse' },
      visit: { chair: 4 },
    });
  });
  it('[R2] is the most urgent of those that sound', () => {
    const { life, bells } = rung(30);
    expect(ringing(bells, JOSS, none, life.now)).toMatchObject({ bell: { level: 'DANGER' }, visit: { chair: 4 } });
  });
  it('a phone that nobody holds shows none', () => {
    const { life, bells } = rung(30);
    expect(ringing(bells, null, none, life.now)).toBeNull();
  });
  it('[R2] put aside it stays away until it rings at a higher level', () => {
    const { life, bells } = rung(27);
    const standing = ringing(bells, AMA, none, life.now);
    const aside = standing === null ? [] : [bellKey(standing)];
    expect(ringing(bells, AMA, aside, life.now)).toBeNull();
    life.at(30);
    expect(ringing(staged(life).mirror.bells, AMA, aside, life.now)).toMatchObject({ bell: { level: 'DANGER' } });
  });
  it('[R3] taken it stays in view for whoever goes, and for nobody else, until it sounds again', () => {
    const { life, bells } = rung(27);
    const visit = bells.find(({ bell }) => bell.kind === 'rinse')?.visit?.id ?? '';
    life.do({ type: 'TakeBell', visit, cause: 'off' }, { by: AMA });
    const taken = staged(life).mirror.bells;
    expect(onScreen(taken, AMA, none, life.now)).toMatchObject({ going: true, standing: { visit: { chair: 4 } } });
    expect(onScreen(taken, JOSS, none, life.now)).toBeNull();
    const again = life.now + 90 * SECOND;
    expect(onScreen(taken, JOSS, none, again)).toMatchObject({ going: false });
    expect(onScreen(taken, AMA, none, again)).toMatchObject({ going: false });
  });
  it('[R3] going to a head takes all that sounds there, and nothing of another', () => {
    const { life, bells } = rung(28);
    const visit = bells.find(({ bell }) => bell.kind === 'rinse')?.visit?.id ?? '';
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'eye' });
    const standing = ringing(staged(life).mirror.bells, AMA, none, life.now);
    expect(standing?.bell.cause).toBe('burns');
    const causes = standing === null ? [] : takenTogether(standing, life.now);
    for (const cause of causes) life.do({ type: 'TakeBell', visit, cause }, { by: AMA });
    expect(ringing(staged(life).mirror.bells, JOSS, none, life.now)).toBeNull();
    expect(onScreen(staged(life).mirror.bells, AMA, none, life.now)?.standing.bell.cause).toBe('burns');
  });
  it('[R5] buzzes once with each burst, at the burst', () => {
    const { life, bells } = rung(27);
    const first = buzzAt(bells, life.now);
    expect(first?.pulses).toEqual([300, 150, 300]);
    expect(buzzAt(bells, life.now + SECOND)).toBeNull();
    expect(buzzAt(bells, life.now + 14 * SECOND)).toBeNull();
    const second = buzzAt(bells, life.now + 15 * SECOND);
    expect(second).not.toBeNull();
    expect(second?.key).not.toBe(first?.key);
  });
});

describe('whether a phone can be rung', () => {
  const reach: Reach = { person: AMA, sound: 'on', heard: 'heard', awake: 'held', linked: true, silentForMs: 1_000 };
  it('[R7] is yes only when somebody heard the test, and the server is heard', () => {
    expect(canBeRung(reach)).toBe(true);
    expect(canBeRung({ ...reach, person: null })).toBe(false);
    expect(canBeRung({ ...reach, heard: 'untested' })).toBe(false);
    expect(canBeRung({ ...reach, heard: 'unheard' })).toBe(false);
    expect(canBeRung({ ...reach, sound: 'broken' })).toBe(false);
    expect(canBeRung({ ...reach, linked: false })).toBe(false);
    expect(canBeRung({ ...reach, silentForMs: 5_000 })).toBe(false);
    expect(canBeRung({ ...reach, silentForMs: null })).toBe(false);
  });
  it('a test heard earlier says nothing once sound is gone', () => {
    expect(soundSaid({ sound: 'broken', heard: 'heard' })).toBe('broken');
    expect(soundSaid({ sound: 'on', heard: 'unheard' })).toBe('unheard');
  });

  function wake(refuse = 0) {
    const page = new EventTarget() as EventTarget & { visibilityState: DocumentVisibilityState };
    page.visibilityState = 'visible';
    const sentinels: EventTarget[] = [];
    let refusals = refuse;
    const waiting: (() => void)[] = [];
    const lock = {
      request: async () => {
        if (refusals-- > 0) throw new Error('NotAllowedError');
        const sentinel = Object.assign(new EventTarget(), { release: async () => undefined });
        sentinels.push(sentinel);
        return sentinel;
      },
    };
    const timers = { set: (run: () => void) => waiting.push(run), clear: () => undefined };
    return { wake: new WakeLock({ lock, page, timers }), page, sentinels, waiting };
  }
  const settled = () => new Promise<void>((resolve) => setImmediate(resolve));

  it('the screen is kept awake, and asked for again when the browser let go of it', async () => {
    const { wake: one, page, sentinels } = wake();
    expect(one.current).toBe('off');
    one.hold();
    await settled();
    expect(one.current).toBe('held');
    page.visibilityState = 'hidden';
    sentinels[0]?.dispatchEvent(new Event('release'));
    await settled();
    expect(one.current).toBe('off');
    page.visibilityState = 'visible';
    page.dispatchEvent(new Event('visibilitychange'));
    await settled();
    expect(one.current).toBe('held');
  });
  it('a refusal right after coming back is asked again once', async () => {
    const { wake: one, waiting } = wake(1);
    one.hold();
    await settled();
    expect(one.current).toBe('off');
    waiting.shift()?.();
    await settled();
    expect(one.current).toBe('held');
  });
  it('on plain http it says that it cannot', () => {
    const timers = { set: () => 0, clear: () => undefined };
    const page = Object.assign(new EventTarget(), { visibilityState: 'visible' as const });
    const one = new WakeLock({ lock: null, page, timers });
    one.hold();
    expect(one.current).toBe('absent');
  });
});

describe('what is owed, and what is still on the hair', () => {
  it('[S4] reasons are asked for from drying on, the oldest visit first', () => {
    const life = FloorLife.salon();
    const first = life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    life.pass(1);
    const second = life.do({ type: 'BeginRinse', chair: 2, visit: null, basin: 92 });
    const visits = () => Object.values(life.floor.visits).map(({ facts }) => facts);
    expect(owing(visits()).count).toBe(0);
    life.pass(6);
    for (const visit of [second, first]) life.do({ type: 'ClearAndOff', visit });
    const list = owing(visits());
    expect(list.visits.map(({ id }) => id)).toEqual([first, second]);
    expect(list.count).toBe(4);
    const one = life.facts(first).owed[0];
    life.do({
      type: 'GiveReason',
      visit: first,
      version: one?.version ?? 0,
      item: one?.item ?? 'not-marked',
      reason: 'other',
      note: null,
    });
    expect(owing(visits()).count).toBe(3);
  });
  it('[X4] the sheet tells the class and since when, and nothing where product is off', () => {
    const life = FloorLife.salon();
    const visit = begin(life, 4, AMA);
    life.pass(4);
    life.do({ type: 'Abandon', visit });
    expect(onTheHair(life.facts(visit))).toEqual({
      class: 'hydroxide',
      directions: 'directions-1',
      sinceAt: NOON,
      leftAt: NOON + 4 * MINUTE,
    });
    const unknown = life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    expect(onTheHair(life.facts(unknown))).toMatchObject({ class: null, sinceAt: null, leftAt: null });
    life.do({ type: 'ClearAndOff', visit: unknown });
    expect(onTheHair(life.facts(unknown))).toBeNull();
  });
});

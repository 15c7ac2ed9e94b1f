import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { headline } from '../../../core/visit/headline.ts';
import { hairWindow } from '../../../web/src/chair/hair-window.ts';
import { bellSaid, fullDeed, ownDeed } from '../../../web/src/pocket/bell-deed.ts';
import { cannotDo } from '../../../web/src/pocket/cannot-do.ts';
import { lineWords } from '../../../web/src/pocket/line-words.ts';
import { ringLines, secondsLeft, type LineKind, type Stand, type Told } from '../../../web/src/pocket/ring-lines.ts';
import { makeOf, type Phone } from '../../../web/src/pocket/this-phone.ts';
import { WakeLock } from '../../../web/src/pocket/wake-lock.svelte.ts';
import { words } from '../../../web/src/words/words.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const w = words();
const well: Told = {
  person: 'person-ama',
  shift: 'on',
  sound: 'on',
  heard: 'heard',
  awake: 'held',
  linked: true,
  silentForMs: 1_000,
  vibrates: true,
  notices: 'granted',
  push: 'confirmed',
  opensAlone: 'yes',
  mutedForMs: null,
  seenAs: 'rings',
};
const stands = (told: Partial<Told>): Partial<Record<LineKind, Stand>> =>
  Object.fromEntries(ringLines({ ...well, ...told }).map(({ line, stand }) => [line, stand]));

describe('the lines of "Can I be rung?"', () => {
  it('[R7] are all well only where everything was confirmed', () => {
    expect(new Set(ringLines(well).map(({ stand }) => stand))).toEqual(new Set(['yes']));
    expect(ringLines(well)).toHaveLength(10);
  });
  it('[R7] what keeps bells from being heard stands as not', () => {
    expect(stands({ shift: 'off' }).shift).toBe('no');
    expect(stands({ shift: 'away' }).shift).toBe('no');
    expect(stands({ person: null }).shift).toBe('no');
    expect(stands({ heard: 'untested' }).sound).toBe('no');
    expect(stands({ sound: 'broken' }).sound).toBe('no');
    expect(stands({ silentForMs: 5_000 }).server).toBe('no');
    expect(stands({ linked: false }).server).toBe('no');
    expect(stands({ seenAs: 'no' })['seen-as']).toBe('no');
  });
  it('[R7] what only makes it less stands as less', () => {
    expect(stands({ seenAs: 'shown' })['seen-as']).toBe('less');
    expect(stands({ seenAs: 'push' })['seen-as']).toBe('less');
    expect(stands({ awake: 'absent' }).awake).toBe('less');
    expect(stands({ vibrates: false }).buzz).toBe('less');
    expect(stands({ push: 'subscribed' }).push).toBe('less');
    expect(stands({ push: 'testing' }).push).toBe('less');
    expect(stands({ mutedForMs: 30_000 }).muted).toBe('less');
    expect(stands({ opensAlone: 'absent' }).alone).toBe('less');
  });
  it('[R7] how the salon sees somebody is not told from before the line was lost', () => {
    expect(stands({ linked: false })['seen-as']).toBeUndefined();
    expect(stands({ seenAs: null })['seen-as']).toBeUndefined();
  });
  it('notifications are no matter where the salon sends none', () => {
    expect(stands({ push: 'salon-off', notices: 'default' }).notices).toBeUndefined();
    expect(stands({ push: 'ask', notices: 'default' }).notices).toBe('less');
  });
  it('are said in words, with how long and until when', () => {
    const at = { name: 'Ama', awayUntilAt: NOON, mutedUntilAt: NOON + MINUTE, clock: () => '14:30' };
    const say = (line: LineKind, told: Partial<Told>) => lineWords(line, { ...well, ...told }, at, w);
    expect(say('shift', {})).toBe('Rings for Ama: for bells that ask them');
    expect(say('shift', { shift: 'away' })).toBe('Ama is away until 14:30: others are rung');
    expect(say('shift', { shift: 'off' })).toBe('Ama is not on shift: this phone rings for nobody');
    expect(say('server', { silentForMs: 2_400 })).toBe('Server heard 2 s ago');
    expect(say('server', { silentForMs: 42_000 })).toBe('No word from the server for 42 s');
    expect(say('muted', { mutedForMs: 47_000 })).toContain('47 s');
    expect(say('muted', {})).toBe('Not muted');
    expect(say('sound', { heard: 'unheard' })).toBe('Sound: the last test was not heard');
    expect(say('seen-as', { seenAs: 'push' })).toBe('The salon sees you as: by push only');
  });
  it('[R4] the seconds of a mute are rounded up, and none are left at its end', () => {
    expect(secondsLeft(NOON + 60 * SECOND, NOON)).toBe(60);
    expect(secondsLeft(NOON + 500, NOON)).toBe(1);
    expect(secondsLeft(NOON, NOON)).toBeNull();
    expect(secondsLeft(null, NOON)).toBeNull();
  });
});

describe('what a phone cannot do now', () => {
  const android: Phone = {
    make: 'android',
    secure: true,
    installed: false,
    vibrates: true,
    wakeLock: true,
    audioSession: false,
  };
  const apple: Phone = { ...android, make: 'apple', vibrates: false, audioSession: true };

  // What browsers leave out on plain http: w3.org/TR/secure-contexts.
  it('by plain http it is sound only, and only while the page is open', () => {
    const plain = cannotDo({ ...android, secure: false, wakeLock: false }, 'insecure');
    expect(plain).toEqual(['plain-http', 'locked', 'hearing']);
  });
  it('[R7] a push may be late, and Android may hold it back', () => {
    expect(cannotDo(android, 'confirmed')).toEqual(['locked-push-late', 'battery', 'channel', 'hearing']);
    expect(cannotDo(android, 'off')).toEqual(['locked', 'push-off', 'hearing']);
    expect(cannotDo(android, 'denied')).toEqual(['locked', 'push-denied', 'hearing']);
    expect(cannotDo(android, 'salon-off')).toEqual(['locked', 'push-salon-off', 'hearing']);
  });
  it('an Apple phone wants the home screen first, and has a silent switch and a Focus', () => {
    expect(cannotDo(apple, 'install-first')).toEqual(['locked', 'home-screen', 'no-vibration', 'hearing']);
    expect(cannotDo({ ...apple, audioSession: false }, 'salon-off')).toContain('silent-switch');
    expect(cannotDo({ ...apple, installed: true }, 'confirmed')).toContain('focus');
  });
  it('each has what to do about it', () => {
    expect(Object.keys(w.pocket.rung.todo).sort()).toEqual(Object.keys(w.pocket.rung.cannotDo).sort());
  });
  it('a phone is known by what its browser says, a tablet of Apple\u2019s by its touch screen', () => {
    const of = (userAgent: string, maxTouchPoints = 5) => makeOf({ userAgent, maxTouchPoints });
    expect(of('Mozilla/5.0 (Linux; Android 15; K) Mobile')).toBe('android');
    expect(of('Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X)')).toBe('apple');
    expect(of('Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7)')).toBe('apple');
    expect(of('Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7)', 0)).toBe('other');
    expect(of('Mozilla/5.0 (X11; Linux x86_64)', 0)).toBe('other');
  });
});

describe('the wake lock', () => {
  const settled = () => new Promise<void>((resolve) => setImmediate(resolve));
  function made() {
    const page = Object.assign(new EventTarget(), { visibilityState: 'visible' as const });
    const sentinels: (EventTarget & { released: boolean })[] = [];
    let refuse = false;
    const lock = {
      request: async () => {
        if (refuse) throw new Error('NotAllowedError');
        const sentinel = Object.assign(new EventTarget(), {
          released: false,
          release: async () => {
            sentinel.released = true;
            sentinel.dispatchEvent(new Event('release'));
          },
        });
        sentinels.push(sentinel);
        return sentinel;
      },
    };
    const wake = new WakeLock({ lock, page, timers: { set: () => 0, clear: () => undefined } });
    return { wake, page, sentinels, refuse: (on: boolean) => (refuse = on) };
  }

  it('is let go of when nobody is rung here any more, and not asked for again', async () => {
    const { wake, page, sentinels } = made();
    wake.hold();
    await settled();
    wake.letGo();
    await settled();
    expect(sentinels[0]?.released).toBe(true);
    expect(wake.current).toBe('off');
    page.dispatchEvent(new Event('pointerup'));
    await settled();
    expect(sentinels).toHaveLength(1);
  });
  it('refused until somebody touches, it is asked for with the next touch', async () => {
    const { wake, page, refuse } = made();
    refuse(true);
    wake.hold();
    await settled();
    expect(wake.current).toBe('off');
    refuse(false);
    page.dispatchEvent(new Event('pointerup'));
    await settled();
    expect(wake.current).toBe('held');
  });
  it('given after nobody wants it any more, it is given back', async () => {
    const { wake, sentinels } = made();
    wake.hold();
    wake.letGo();
    await settled();
    expect(sentinels[0]?.released).toBe(true);
    expect(wake.current).toBe('off');
  });
});

describe('what a bell says on a phone', () => {
  function head() {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'SeatVisit', chair: 4, service: 'service-1', stylist: null, label: null });
    life.do({ type: 'BeginApplication', chair: 4, visit, service: null });
    life.at(15);
    life.do({ type: 'FinishApplication', visit });
    const said = () => {
      const facts = life.facts(visit);
      const context = { now: life.now, figures: life.floor.salon.figures, uncertain: false };
      const opensAt = hairWindow(facts, context)?.opensAt ?? null;
      return { facts, line: headline(facts, context), opensAt, now: life.now };
    };
    return { life, said };
  }
  const names = { labelOf: String, nameOf: () => null, serviceName: () => null };

  it('`soon` is near before the window, and says that it may be rinsed once it is open', () => {
    const { life, said } = head();
    life.at(22);
    expect(said().facts.bells.map(({ kind }) => kind)).toEqual(['soon']);
    expect(bellSaid({ kind: 'soon' }, said(), w)).toBe('The rinse is near');
    life.at(25);
    expect(said().facts.bells.map(({ kind }) => kind)).toEqual(['soon']);
    expect(bellSaid({ kind: 'soon' }, said(), w)).toBe('May be rinsed now');
    // With no room the close comes before the window: nothing may be rinsed yet, and nothing says so.
    expect(bellSaid({ kind: 'soon' }, { ...said(), opensAt: life.now + MINUTE }, w)).toBe('The rinse is near');
  });
  it('[E8] a head to be rinsed says "rinse" as its deed until the close has come', () => {
    const { life, said } = head();
    life.at(27);
    const { facts, line } = said();
    const [bell] = facts.bells;
    if (bell === undefined) throw new Error('no bell stands');
    expect(fullDeed(bell, line, names, w)).toBe('rinse');
    life.at(30);
    const over = said();
    const [later = bell] = over.facts.bells;
    expect(fullDeed(later, over.line, names, w)).toBe('rinse now');
  });
  it('[S6] what tingles asks for something that has nothing to do with the number of its head', () => {
    const { life, said } = head();
    life.do({ type: 'ReportTingles', visit: said().facts.id });
    const bell = said().facts.bells.find(({ kind }) => kind === 'tingles');
    expect(bell === undefined ? null : ownDeed(bell, w)).toBe('look at the scalp');
  });
});

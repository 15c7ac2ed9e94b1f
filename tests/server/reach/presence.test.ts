import { beforeEach, describe, expect, it } from 'vitest';
import { Presence } from '../../../server/reach/presence.ts';
import type { Here } from '../../../shared/socket-events.ts';
import { beginShifts } from '../../support/bell-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';
let mono: number;
let byPush: string[];
let life: FloorLife;
let presence: Presence;

const phone = (changes: Partial<Here> = {}): Here => ({
  device: 'device-ama',
  screen: 'pocket',
  person: AMA,
  sound: 'on',
  heard: true,
  seen: true,
  mutedUntil: null,
  ...changes,
});
const wall = (sound: Here['sound'] = 'on'): Here =>
  phone({ device: 'device-wall', screen: 'wall', person: null, sound });
const look = (now = life.now): boolean => presence.look(life.floor, now);
const how = (person = AMA) => {
  look();
  return presence.told.people.find((one) => one.person === person)?.how;
};
const nobodySince = (now = life.now) => presence.reach(life.floor, now).nobodySince;

beforeEach(() => {
  mono = 50_000;
  byPush = [];
  life = FloorLife.salon();
  presence = new Presence({ monotonicNow: () => mono, byPush: (person) => byPush.includes(person) });
});

describe('who can be reached', () => {
  it('[R7] is told of everybody on shift, and of whoever holds a phone that speaks', () => {
    look();
    expect(presence.told.people).toEqual([]);
    presence.hear('line-1', phone());
    look();
    expect(presence.told.people.map(({ person }) => person)).toEqual([AMA]);
    beginShifts(life, JOSS);
    look();
    expect(presence.told.people).toMatchObject([
      { person: AMA, how: 'rings' },
      { person: JOSS, how: 'no' },
    ]);
    life.do({ type: 'RetirePerson', person: AMA });
    look();
    expect(presence.told.people.map(({ person }) => person)).toEqual([JOSS]);
  });

  it.each([
    ['rings', {}],
    ['shown', { sound: 'locked' }],
    ['shown', { sound: 'broken' }],
    ['shown', { sound: 'absent' }],
    ['shown', { heard: false }],
    ['no', { seen: false }],
  ] as const)('[R7] %s where the device says %j', (told, changes) => {
    presence.hear('line-1', phone(changes));
    expect(how()).toBe(told);
  });

  it('[R7] by push where a device of theirs confirmed one, unless a page of theirs rings', () => {
    beginShifts(life, AMA);
    byPush = [AMA];
    expect(how()).toBe('push');
    presence.hear('line-1', phone({ sound: 'locked' }));
    expect(how()).toBe('push');
    presence.hear('line-1', phone());
    expect(how()).toBe('rings');
    expect(presence.reach(life.floor, life.now).pushOnly).toEqual([]);
    presence.gone('line-1');
    expect(presence.reach(life.floor, life.now).pushOnly).toEqual([AMA]);
  });

  it('[R7] who sends pushes may be known only later', () => {
    beginShifts(life, AMA);
    presence.hearOfPushes((person) => person === AMA);
    expect(how()).toBe('push');
  });

  it('[R7] the best of several devices counts, and one that is gone does not', () => {
    presence.hear('line-1', phone({ sound: 'locked' }));
    presence.hear('line-2', phone({ device: 'device-other' }));
    expect(how()).toBe('rings');
    presence.gone('line-2');
    expect(how()).toBe('shown');
    presence.gone('line-1');
    expect(how()).toBeUndefined();
  });

  it('[R7] a word is believed for 12 s by the monotonic clock, whatever the floor’s time does', () => {
    beginShifts(life, AMA);
    presence.hear('line-1', phone());
    mono += 12_000;
    expect(how()).toBe('rings');
    life.now += 3_600_000;
    expect(how()).toBe('rings');
    mono += 1;
    expect(how()).toBe('no');
    presence.hear('line-1', phone());
    expect(how()).toBe('rings');
  });

  it('[R7] says since when each is reached as they are', () => {
    const since = () => presence.told.people[0]?.sinceAt;
    presence.hear('line-1', phone());
    look(NOON);
    look(NOON + 9_000);
    expect(since()).toBe(NOON);
    presence.hear('line-1', phone({ sound: 'broken' }));
    look(NOON + 10_000);
    expect(since()).toBe(NOON + 10_000);
  });

  it('[R4] says until when a device of theirs is muted, as long as it is', () => {
    const until = (now: number) => {
      look(now);
      return presence.told.people[0]?.mutedUntil;
    };
    presence.hear('line-1', phone({ mutedUntil: NOON + 60_000 }));
    presence.hear('line-2', phone({ device: 'device-other', mutedUntil: NOON + 90_000 }));
    expect(until(NOON)).toBe(NOON + 90_000);
    presence.gone('line-2');
    expect(until(NOON + 59_999)).toBe(NOON + 60_000);
    expect(until(NOON + 60_000)).toBeNull();
  });

  it('[R7] a push to a device whose page rings would be one sound too many', () => {
    presence.hear('line-1', phone());
    expect(presence.ringsByPage(AMA, 'device-ama')).toBe(true);
    expect(presence.ringsByPage(AMA, 'device-other')).toBe(false);
    expect(presence.ringsByPage(JOSS, 'device-ama')).toBe(false);
    presence.hear('line-1', phone({ seen: false }));
    expect(presence.ringsByPage(AMA, 'device-ama')).toBe(false);
  });
});

describe('walls', () => {
  it('[R7] are counted by whether they sound', () => {
    presence.hear('line-1', wall());
    presence.hear('line-2', wall('broken'));
    presence.hear('line-3', wall('locked'));
    presence.hear('line-4', phone({ screen: 'chair', person: null }));
    look();
    expect(presence.told.walls).toEqual({ sounding: 1, silent: 2 });
    mono += 12_001;
    look();
    expect(presence.told.walls).toEqual({ sounding: 0, silent: 0 });
  });
});

describe('since when nobody can be reached', () => {
  it('[R2] with somebody here: as long as nobody’s device rings or has a push; a page that only shows is none', () => {
    beginShifts(life, AMA, JOSS);
    presence.hear('wall', wall());
    expect(nobodySince(NOON)).toBe(NOON);
    presence.hear('line-1', phone({ sound: 'broken' }));
    expect(nobodySince(NOON + 5_000)).toBe(NOON);
    presence.hear('line-1', phone());
    expect(nobodySince(NOON + 6_000)).toBeNull();
    presence.gone('line-1');
    expect(nobodySince(NOON + 7_000)).toBe(NOON + 7_000);
    byPush = [JOSS];
    expect(nobodySince(NOON + 8_000)).toBeNull();
  });

  it('[R2] whoever is away or off does not count, though their phone rings', () => {
    beginShifts(life, AMA, JOSS);
    presence.hear('line-1', phone());
    expect(nobodySince()).toBeNull();
    life.do({ type: 'GoAway', person: AMA, forMs: 600_000, cover: null });
    expect(nobodySince()).toBe(life.now);
    life.at(10);
    expect(nobodySince()).toBeNull();
    life.do({ type: 'EndShift', person: AMA });
    expect(nobodySince()).toBe(life.now);
  });

  it('[R2] with nobody on shift a wall that sounds is the bell', () => {
    expect(nobodySince(NOON)).toBe(NOON);
    presence.hear('wall', wall('broken'));
    expect(nobodySince(NOON + 1)).toBe(NOON);
    presence.hear('wall', wall());
    expect(nobodySince(NOON + 2)).toBeNull();
    presence.hear('line-1', phone());
    presence.gone('wall');
    expect(nobodySince(NOON + 3)).toBe(NOON + 3);
  });
});

describe('what screens are told', () => {
  it('[R7] is told when it is otherwise, and once', () => {
    expect(look()).toBe(true);
    expect(look()).toBe(false);
    presence.hear('line-1', phone());
    expect(look()).toBe(true);
    presence.hear('line-1', phone());
    expect(look()).toBe(false);
    mono += 12_001;
    expect(look()).toBe(true);
  });

  it('[R7] also when a turn of the engine has looked before', () => {
    look();
    presence.hear('line-1', phone());
    presence.reach(life.floor, life.now);
    expect(look()).toBe(true);
  });
});

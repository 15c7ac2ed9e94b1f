import { beforeEach, describe, expect, it } from 'vitest';
import { defaultRoom, roomLimits, soundedLevels, type Room, type SoundedLevel } from '../../../core/salon/room.ts';
import { wordKey } from '../../../core/words.ts';
import { FloorLife } from '../../support/floor-life.ts';

let life: FloorLife;
const room = (volume: Partial<Room['volume']> = {}): Room => ({
  ...defaultRoom,
  volume: { ...defaultRoom.volume, ...volume },
});
const set = (one: Room) => life.send({ type: 'SetRoom', room: one });

beforeEach(() => {
  life = FloorLife.salon();
});

describe('what the room hears', () => {
  it('[W4] begins with the common practice, and is what was set', () => {
    expect(life.floor.salon.room).toEqual(defaultRoom);
    const quiet = { ...room({ CAUTION: 0.2, WARNING: 0.3, DANGER: 0.5 }), spoken: true, names: false };
    expect(set(quiet)).toMatchObject({ outcome: 'done' });
    expect(life.floor.salon.room).toEqual(quiet);
  });

  it.each(soundedLevels)('[W4] %s can be made neither silent nor louder than the device', (level: SoundedLevel) => {
    const [least, most] = roomLimits[level];
    expect(least).toBeGreaterThan(0);
    const lower = { CAUTION: 0.2, WARNING: 0.3, DANGER: 0.5 };
    const field = `room.volume.${level}`;
    expect(set(room({ ...lower, [level]: least - 0.01 }))).toMatchObject({ code: 'out-of-range', field });
    expect(set(room({ ...lower, [level]: most + 0.01 }))).toMatchObject({ code: 'out-of-range', field });
    expect(set(room({ CAUTION: most, WARNING: most, DANGER: most }))).toMatchObject({ outcome: 'done' });
  });

  it('[R5] no level is softer than a less urgent one; as loud is allowed', () => {
    expect(set(room({ CAUTION: 0.9, WARNING: 0.8 }))).toMatchObject({ field: 'room.volume.WARNING' });
    expect(set(room({ WARNING: 0.9, DANGER: 0.8 }))).toMatchObject({ field: 'room.volume.DANGER' });
    expect(set(room({ CAUTION: 0.8, WARNING: 0.8, DANGER: 0.8 }))).toMatchObject({ outcome: 'done' });
    expect(life.floor.salon.room.volume).toEqual({ CAUTION: 0.8, WARNING: 0.8, DANGER: 0.8 });
  });
});

describe('push', () => {
  const push = (on: boolean, contact: string) => life.send({ type: 'SetPush', on, contact });
  it.each(['mailto:front@salon.example', 'https://salon.example/contact'])('[R7] goes on with %s', (contact) => {
    expect(push(true, contact)).toMatchObject({ outcome: 'done' });
    expect(life.floor.salon.push).toBe(true);
    expect(life.floor.words[wordKey.pushContact()]).toBe(contact);
    expect(JSON.stringify(life.log)).not.toContain('salon.example');
  });
  it.each(['', 'front@salon.example', 'mailto:nobody', 'http://salon.example', 'mailto:a@b c.example'])(
    '[R7] wants an address at which a push service finds whoever runs this, not %j (RFC 8292, 2.1)',
    (contact) => {
      expect(push(true, contact)).toMatchObject({ code: 'out-of-range', field: 'contact' });
      expect(life.floor.salon.push).toBe(false);
    },
  );
  it('[R7] goes off without one, which is then forgotten', () => {
    push(true, 'mailto:front@salon.example');
    expect(push(false, '')).toMatchObject({ outcome: 'done' });
    expect(life.floor.salon.push).toBe(false);
    expect(life.floor.words[wordKey.pushContact()]).toBeUndefined();
  });
});

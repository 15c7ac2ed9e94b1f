import { describe, expect, it } from 'vitest';
import { deviceId, handTo, heldBy, newId } from '../../../web/src/state/device.ts';
import { keepIn } from '../../../web/src/state/keep.ts';
import { Theme } from '../../../web/src/state/theme.svelte.ts';

function storage() {
  const held = new Map<string, string>();
  return {
    held,
    getItem: (name: string) => held.get(name) ?? null,
    setItem: (name: string, value: string) => void held.set(name, value),
    removeItem: (name: string) => void held.delete(name),
  };
}

function refusing() {
  const no = () => {
    throw new Error('storage is blocked');
  };
  return { getItem: no, setItem: no, removeItem: no };
}

describe('ids made by a device', () => {
  it('[S8] are version 4 UUIDs (RFC 9562 §5.4) made without crypto.randomUUID', () => {
    const pattern = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
    expect(newId((into) => into.fill(0xff))).toBe('ffffffff-ffff-4fff-bfff-ffffffffffff');
    expect(newId((into) => into.fill(0))).toBe('00000000-0000-4000-8000-000000000000');
    const made = Array.from({ length: 200 }, () => newId());
    for (const id of made) expect(id).toMatch(pattern);
    expect(new Set(made).size).toBe(200);
  });
});

describe('what a device remembers', () => {
  it('is its own name, made once', () => {
    const keep = keepIn(storage());
    let made = 0;
    const make = () => `device ${(made += 1)}`;
    expect([deviceId(keep, make), deviceId(keep, make)]).toEqual(['device 1', 'device 1']);
  });
  it('is who holds it, until it is handed on', () => {
    const keep = keepIn(storage());
    expect(heldBy(keep)).toBeNull();
    handTo(keep, 'p1');
    expect(heldBy(keep)).toBe('p1');
    handTo(keep, null);
    expect(heldBy(keep)).toBeNull();
  });
  it.each([
    ['none', null],
    ['refusing', refusing()],
  ])('lasts for the page where storage is %s', (_name, where) => {
    const keep = keepIn(where);
    keep.write('person', 'p1');
    expect(keep.read('person')).toBe('p1');
    keep.write('person', null);
    expect(keep.read('person')).toBeNull();
  });
});

describe('the theme', () => {
  const root = () => ({ dataset: {} }) as unknown as HTMLElement;
  it('follows the device unless somebody chose', () => {
    const page = root();
    const theme = new Theme(keepIn(storage()));
    theme.follow(page);
    expect(page.dataset).toEqual({});
    theme.choose('dark');
    expect(page.dataset).toEqual({ theme: 'dark' });
    theme.choose('auto');
    expect(page.dataset).toEqual({});
  });
  it('is remembered, and nonsense in storage is not', () => {
    const where = storage();
    new Theme(keepIn(where)).choose('light');
    expect(new Theme(keepIn(where)).choice).toBe('light');
    where.held.set('basinbell.theme', 'mauve');
    expect(new Theme(keepIn(where)).choice).toBe('auto');
  });
});

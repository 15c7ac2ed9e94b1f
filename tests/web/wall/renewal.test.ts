import { describe, expect, it } from 'vitest';
import type { Session } from '../../../web/src/state/session.svelte.ts';
import { Renewal } from '../../../web/src/wall/renew.svelte.ts';
import { opensAnew, REFUSED_WAIT_MS, scriptsNamed } from '../../../web/src/wall/renewal.ts';

const calm = { newer: false, refused: false, quiet: true, refusedForMs: 0, triedAlready: false };

describe('opening the wall anew', () => {
  it('only for a newer server, only in a quiet moment, only once', () => {
    expect(opensAnew(calm)).toBe(false);
    expect(opensAnew({ ...calm, newer: true })).toBe(true);
    expect(opensAnew({ ...calm, newer: true, quiet: false })).toBe(false);
    expect(opensAnew({ ...calm, newer: true, triedAlready: true })).toBe(false);
  });
  it('a refused wall does not wait for ever for bells that it cannot see ending', () => {
    const refused = { ...calm, refused: true, quiet: false };
    expect(opensAnew({ ...refused, refusedForMs: REFUSED_WAIT_MS - 1 })).toBe(false);
    expect(opensAnew({ ...refused, refusedForMs: REFUSED_WAIT_MS })).toBe(true);
    expect(opensAnew({ ...refused, quiet: true })).toBe(true);
    expect(opensAnew({ ...calm, newer: true, quiet: false, refusedForMs: REFUSED_WAIT_MS })).toBe(false);
  });
  it('reads the scripts a page names', () => {
    const html = '<script type="module" crossorigin src="/assets/wall-a1.js"></script><script>var x</script>';
    expect(scriptsNamed(html)).toBe('/assets/wall-a1.js');
    expect(scriptsNamed('no page')).toBe('');
  });
});

/** A wall with a page whose server can be swapped under it. */
function wall(storageWorks = true) {
  const kept = new Map<string, string>();
  const seen = { opened: 0, served: 'a' };
  const session = { link: { phase: 'linked' }, mirror: { run: 'run-1', bells: [] as unknown[] }, now: 0 };
  const renewal = new Renewal(session as unknown as Session, {
    fetched: async () => `<script src="/assets/wall-${seen.served}.js"></script>`,
    loaded: () => '/assets/wall-a.js',
    open: () => (seen.opened += 1),
    storage: () => {
      if (!storageWorks) throw new Error('no storage here');
      return {
        getItem: (key) => kept.get(key) ?? null,
        setItem: (key, value) => void kept.set(key, value),
        removeItem: (key) => void kept.delete(key),
      };
    },
  });
  /** Looks, lets the question for the page be answered, and looks again. */
  const look = async (): Promise<void> => {
    renewal.look();
    for (let n = 0; n < 5; n += 1) await Promise.resolve();
    renewal.look();
  };
  return { renewal, session, seen, look };
}

describe('a wall whose server was replaced', () => {
  it('stays when the new run serves the same files', async () => {
    const { session, seen, look } = wall();
    await look();
    session.mirror.run = 'run-2';
    await look();
    expect(seen.opened).toBe(0);
  });
  it('opens itself when it serves others, after the last bell', async () => {
    const { session, seen, look } = wall();
    await look();
    seen.served = 'b';
    session.mirror.run = 'run-2';
    session.mirror.bells = [{ bell: { level: 'CAUTION' }, visit: null }];
    await look();
    expect(seen.opened).toBe(0);
    session.mirror.bells = [{ bell: { level: 'NOTICE' }, visit: null }];
    await look();
    expect(seen.opened).toBe(1);
  });
  it('still refused after one try, it stays and may be told so', async () => {
    const { renewal, session, seen, look } = wall();
    session.link.phase = 'refused';
    await look();
    await look();
    expect(seen.opened).toBe(1);
    expect(renewal.tried).toBe(true);
    session.link.phase = 'linked';
    await look();
    expect(renewal.tried).toBe(false);
  });
  it('does not open itself where it could not remember having tried', async () => {
    const { session, seen, look } = wall(false);
    session.link.phase = 'refused';
    await look();
    expect(seen.opened).toBe(0);
  });
});

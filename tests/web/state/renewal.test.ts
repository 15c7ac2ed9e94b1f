import { beforeEach, describe, expect, it } from 'vitest';
import { Occupied, somebodyIsAtIt } from '../../../web/src/state/occupied.ts';
import { Renewal } from '../../../web/src/state/renew.svelte.ts';
import {
  mayTry,
  nowTried,
  opensAnew,
  REFUSED_WAIT_MS,
  scriptsNamed,
  TRY_AGAIN_MS,
} from '../../../web/src/state/renewal.ts';
import type { Session } from '../../../web/src/state/session.svelte.ts';

const still = { other: false, reached: true, refused: false, calm: true, occupied: false, refusedForMs: 0 };

describe('opening a screen anew', () => {
  it('[R10] only for another version, only in a quiet moment, only while the server is there', () => {
    expect(opensAnew(still)).toBe(false);
    expect(opensAnew({ ...still, other: true })).toBe(true);
    expect(opensAnew({ ...still, other: true, calm: false })).toBe(false);
    expect(opensAnew({ ...still, other: true, occupied: true })).toBe(false);
    expect(opensAnew({ ...still, other: true, reached: false })).toBe(false);
  });
  it('[R10] a refused screen does not wait for ever for bells that it cannot see ending, but for whoever is at it', () => {
    const refused = { ...still, other: true, refused: true, calm: false };
    expect(opensAnew({ ...refused, refusedForMs: REFUSED_WAIT_MS - 1 })).toBe(false);
    expect(opensAnew({ ...refused, refusedForMs: REFUSED_WAIT_MS })).toBe(true);
    expect(opensAnew({ ...refused, calm: true })).toBe(true);
    expect(opensAnew({ ...refused, occupied: true, refusedForMs: REFUSED_WAIT_MS })).toBe(false);
    expect(opensAnew({ ...refused, other: false, refusedForMs: REFUSED_WAIT_MS })).toBe(false);
    expect(opensAnew({ ...refused, refused: false, refusedForMs: REFUSED_WAIT_MS })).toBe(false);
  });
  it('[R10] for one version once, and where it did not come twice more at most', () => {
    const first = nowTried(null, 'b', 0);
    expect([mayTry(null, 'b', 0), mayTry(first, 'c', 0)]).toEqual([true, true]);
    expect([mayTry(first, 'b', TRY_AGAIN_MS - 1), mayTry(first, 'b', TRY_AGAIN_MS)]).toEqual([false, true]);
    const third = nowTried(nowTried(first, 'b', 1), 'b', 2);
    expect(third).toEqual({ scripts: 'b', times: 3, at: 2 });
    expect(mayTry(third, 'b', 99 * TRY_AGAIN_MS)).toBe(false);
    expect(nowTried(third, 'c', 3)).toEqual({ scripts: 'c', times: 1, at: 3 });
  });
  it('[R10] reads the scripts a page names', () => {
    const html = '<script type="module" crossorigin src="/assets/wall-a1.js"></script><script>var x</script>';
    expect(scriptsNamed(html)).toBe('/assets/wall-a1.js');
    expect(scriptsNamed('no page')).toBe('');
  });
});

/** A screen with a page whose server can be swapped under it. */
class Screen {
  readonly kept = new Map<string, string>();
  storageWorks = true;
  served = 'a';
  reachable = true;
  loaded = 'a';
  opened = 0;
  asked = 0;
  busy = false;
  now = 0;
  readonly worker = { updated: 0, quiet: [] as number[], waits: false };
  readonly session = { link: { phase: 'linked' }, mirror: { run: 'run-1', bells: [] as unknown[] } };
  renewal = this.open();

  open(): Renewal {
    return new Renewal(this.session as unknown as Session, {
      occupied: () => this.busy,
      page: {
        fetched: async () => {
          this.asked += 1;
          if (!this.reachable) throw new Error('not to be had');
          return `<script src="/assets/wall-${this.served}.js"></script>`;
        },
        loaded: () => `/assets/wall-${this.loaded}.js`,
        open: () => (this.opened += 1),
        storage: () => {
          if (!this.storageWorks) throw new Error('no storage here');
          return {
            getItem: (key) => this.kept.get(key) ?? null,
            setItem: (key, value) => void this.kept.set(key, value),
          };
        },
        now: () => this.now,
        soon: (run) => run(),
      },
      shell: {
        waits: false,
        update: () => (this.worker.updated += 1),
        quiet: (now) => void this.worker.quiet.push(now),
      },
    });
  }

  /** Looks, lets the question for the page be answered, and looks again a second later. */
  async look(): Promise<void> {
    this.renewal.look();
    for (let n = 0; n < 5; n += 1) await Promise.resolve();
    this.now += 1_000;
    this.renewal.look();
  }

  ring(level: string | null): void {
    this.session.mirror.bells = level === null ? [] : [{ bell: { level }, visit: null }];
  }
}

let screen: Screen;
beforeEach(() => (screen = new Screen()));

describe('a screen whose server was replaced', () => {
  it('[R10] stays when the new run serves the same files, and asks once per run', async () => {
    await screen.look();
    screen.session.mirror.run = 'run-2';
    for (let n = 0; n < 20; n += 1) await screen.look();
    expect([screen.opened, screen.asked, screen.renewal.state]).toEqual([0, 2, 'none']);
  });

  it('[R10] says that a newer version is ready, and opens it after the last bell', async () => {
    await screen.look();
    screen.served = 'b';
    screen.session.mirror.run = 'run-2';
    screen.ring('CAUTION');
    await screen.look();
    expect([screen.opened, screen.renewal.state]).toEqual([0, 'ready']);
    screen.ring('NOTICE');
    screen.renewal.look();
    expect(screen.opened).toBe(1);
  });

  it('[R10] never under the hands of somebody', async () => {
    screen.served = 'b';
    screen.busy = true;
    await screen.look();
    expect([screen.opened, screen.renewal.state]).toEqual([0, 'ready']);
    screen.busy = false;
    screen.renewal.look();
    expect(screen.opened).toBe(1);
  });

  it('[R10] opened from what was kept, it finds out as soon as the server is there', async () => {
    screen.session.link.phase = 'waiting';
    screen.session.mirror.run = null as unknown as string;
    screen.reachable = false;
    await screen.look();
    expect(screen.asked).toBe(0);
    Object.assign(screen, { reachable: true, served: 'b' });
    screen.session.link.phase = 'linked';
    screen.session.mirror.run = 'run-2';
    await screen.look();
    expect(screen.opened).toBe(1);
  });

  it('[R10] a page that cannot be had is asked for again, every ten seconds', async () => {
    screen.reachable = false;
    screen.served = 'b';
    for (let n = 0; n < 21; n += 1) await screen.look();
    expect(screen.asked).toBe(3);
    screen.reachable = true;
    for (let n = 0; n < 10; n += 1) await screen.look();
    expect(screen.renewal.state).not.toBe('none');
  });

  it('[R10] that opens to the same page again, it is not opened for ever, and says so', async () => {
    screen.served = 'b';
    await screen.look();
    expect(screen.opened).toBe(1);
    screen.renewal = screen.open();
    for (let n = 0; n < 60; n += 1) await screen.look();
    expect([screen.opened, screen.renewal.state]).toEqual([1, 'stuck']);
    screen.now += TRY_AGAIN_MS;
    await screen.look();
    expect(screen.opened).toBeGreaterThan(1);
  });

  it('[R10] does not open itself where it could not remember having tried', async () => {
    screen.storageWorks = false;
    screen.served = 'b';
    await screen.look();
    expect([screen.opened, screen.renewal.state]).toEqual([0, 'stuck']);
    screen.renewal.openNow();
    expect(screen.opened).toBe(1);
  });
});

describe('a screen newer than its server, or older than the one before', () => {
  beforeEach(() => {
    screen.session.link.phase = 'refused';
    screen.session.mirror.run = null as unknown as string;
  });

  it('[R10] opens the page that the server has, in a quiet moment', async () => {
    screen.served = 'former';
    await screen.look();
    expect(screen.opened).toBe(1);
  });

  it('[R10] whose server has no other page stays, and asks again now and then', async () => {
    for (let n = 0; n < 30; n += 1) await screen.look();
    expect([screen.opened, screen.asked]).toEqual([0, 4]);
    screen.served = 'mended';
    for (let n = 0; n < 11; n += 1) await screen.look();
    expect(screen.opened).toBeGreaterThan(0);
  });

  it('[R10] with bells that stand for ever waits half a minute', async () => {
    screen.served = 'former';
    screen.ring('DANGER');
    for (let n = 0; n < 29; n += 1) await screen.look();
    expect(screen.opened).toBe(0);
    await screen.look();
    await screen.look();
    expect(screen.opened).toBeGreaterThan(0);
  });
});

describe('the service worker', () => {
  it('[R10] is asked to look for another version with each run of the server and each line that came back', async () => {
    await screen.look();
    const { updated } = screen.worker;
    expect(updated).toBeGreaterThan(0);
    screen.session.link.phase = 'lost';
    await screen.look();
    expect(screen.worker.updated).toBe(updated);
    screen.session.link.phase = 'linked';
    await screen.look();
    expect(screen.worker.updated).toBe(updated + 1);
    screen.session.mirror.run = 'run-2';
    await screen.look();
    expect(screen.worker.updated).toBe(updated + 2);
  });

  it('[R10] is told of quiet moments only', () => {
    screen.ring('CAUTION');
    screen.renewal.look();
    screen.ring(null);
    screen.busy = true;
    screen.renewal.look();
    expect(screen.worker.quiet).toEqual([]);
    screen.busy = false;
    screen.renewal.look();
    expect(screen.worker.quiet).toEqual([0]);
  });
});

describe('somebody at a screen', () => {
  const sender = (...outcomes: readonly string[]) => {
    return { sender: { sent: outcomes.map((outcome) => ({ outcome })) } } as unknown as Session;
  };

  it('[R10] has a panel open, types, or has touched what is not through yet', () => {
    const by = new Occupied();
    const at = (tag: string | null): Pick<Document, 'activeElement'> => ({
      activeElement: tag === null ? null : ({ matches: (list: string) => list.split(', ').includes(tag) } as Element),
    });
    expect(somebodyIsAtIt(sender('refused', 'done'), by, at('button'))).toBe(false);
    expect(somebodyIsAtIt(sender('refused', 'trying'), by, at(null))).toBe(true);
    expect(somebodyIsAtIt(sender('sending'), by, at(null))).toBe(true);
    by.say('panel', true);
    expect(somebodyIsAtIt(sender(), by, at(null))).toBe(true);
    by.say('panel', false);
    expect(somebodyIsAtIt(sender(), by, at('textarea'))).toBe(true);
    expect(somebodyIsAtIt(sender(), by, at(null))).toBe(false);
  });
});

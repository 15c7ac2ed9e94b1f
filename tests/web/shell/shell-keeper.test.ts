import { beforeEach, describe, expect, it } from 'vitest';
import { assetsOf, pageAt } from '../../../web/src/shell/shell-files.ts';
import { ShellKeeper, type Window } from '../../../web/src/shell/shell-keeper.ts';

const HERE = 'https://salon.example';

/** The store of a browser, by path. */
class Kept {
  readonly stores = new Map<string, Map<string, Response>>();
  has = async (name: string) => this.stores.has(name);
  keys = async () => [...this.stores.keys()];
  delete = async (name: string) => this.stores.delete(name);
  open = async (name: string) => {
    const store = this.stores.get(name) ?? new Map<string, Response>();
    this.stores.set(name, store);
    return { put: async (path: string, response: Response) => void store.set(path, response) } as unknown as Cache;
  };
  match = async (path: string) => {
    for (const store of this.stores.values()) if (store.has(path)) return store.get(path)?.clone();
    return undefined;
  };
}

const page = (release: string) => `<script src="/assets/wall-${release}.js"></script>`;

/** A server, a browser's store and the windows that are open, all by hand. */
class Life {
  readonly kept = new Kept();
  served: Record<string, string> | null = null;
  status = 200;
  /** The server takes a request and never answers. */
  swallows = false;
  windows: Window[] = [];
  now = 1_000;
  tookOver = 0;
  asked: string[] = [];
  waited: number[] = [];

  release(name: string): ShellKeeper {
    this.served = { '/icon.svg': 'icon', [`/assets/wall-${name}.js`]: name };
    for (const path of ['/wall', '/chair', '/pocket']) this.served[path] = page(name);
    return this.keeper(name);
  }

  keeper(name: string): ShellKeeper {
    const shell = { version: name, files: ['/icon.svg', `/assets/wall-${name}.js`] };
    return new ShellKeeper(shell, {
      caches: this.kept as never,
      fetch: (what) => this.#fetch(typeof what === 'string' ? what : new URL(what.url).pathname),
      windows: async () => this.windows,
      takeOver: async () => void (this.tookOver += 1),
      now: () => this.now,
      after: (ms) => {
        this.waited.push(ms);
        return this.swallows ? Promise.resolve() : new Promise(() => undefined);
      },
    });
  }

  async #fetch(path: string): Promise<Response> {
    this.asked.push(path);
    if (this.swallows) return new Promise(() => undefined);
    if (this.served === null) throw new TypeError('no network');
    const text = this.served[path];
    return new Response(text ?? '', { status: text === undefined ? 404 : this.status });
  }
}

let life: Life;
beforeEach(() => (life = new Life()));

const navigate = (path: string) => ({ method: 'GET', mode: 'navigate' as const, url: HERE + path });
const load = (path: string, method = 'GET') => ({ method, mode: 'cors' as const, url: HERE + path });
const text = async (answer: Promise<Response> | null) => (await answer)?.text();

describe('the shell', () => {
  it('[R8] opens each screen without the server, at every chair', async () => {
    const keeper = life.release('a');
    await keeper.install();
    life.served = null;
    for (const path of ['/wall', '/wall?from=13', '/chair', '/chair/4', '/chair/', '/pocket']) {
      expect(await text(keeper.answer(navigate(path), HERE))).toBe(page('a'));
    }
    expect(await text(keeper.answer(load('/assets/wall-a.js'), HERE))).toBe('a');
    expect(await text(keeper.answer(load('/icon.svg'), HERE))).toBe('icon');
  });

  it('[R8] takes a page from the server where there is one', async () => {
    const keeper = life.release('a');
    await keeper.install();
    life.release('b');
    expect(await text(keeper.answer(navigate('/wall'), HERE))).toBe(page('b'));
    expect(life.waited).toEqual([2_000]);
  });

  it('[R8] from what is kept, where the server takes too long or cannot serve it', async () => {
    const keeper = life.release('a');
    await keeper.install();
    life.status = 503;
    expect(await text(keeper.answer(navigate('/wall'), HERE))).toBe(page('a'));
    life.swallows = true;
    expect(await text(keeper.answer(navigate('/wall'), HERE))).toBe(page('a'));
  });

  it('[R8] what was never kept fails as it would without a worker', async () => {
    const keeper = life.keeper('a');
    expect((await keeper.answer(navigate('/wall'), HERE))?.type).toBe('error');
    await expect(keeper.answer(load('/assets/wall-a.js'), HERE)).rejects.toThrow('no network');
  });

  it('[R8] files that never change are not asked for twice; the last release’s come from its store', async () => {
    await life.release('a').install();
    const keeper = life.release('b');
    await keeper.install();
    life.asked = [];
    expect(await text(keeper.answer(load('/assets/wall-a.js'), HERE))).toBe('a');
    expect(await text(keeper.answer(load('/assets/wall-b.js'), HERE))).toBe('b');
    expect(life.asked).toEqual([]);
  });

  it('[X3] leaves alone what is said and told, the set-up, and whatever is not ours', () => {
    const keeper = life.release('a');
    for (const request of [
      load('/api/v1/commands', 'POST'),
      load('/api/v1/floor'),
      load('/socket.io/?EIO=4'),
      load('/healthz'),
      load('/sw.js'),
      load('/wall'),
      navigate('/salon'),
      navigate('/'),
      navigate('/chair/four'),
      { method: 'GET', mode: 'cors' as const, url: 'https://elsewhere.example/assets/x.js' },
    ]) {
      expect(keeper.answer(request, HERE)).toBeNull();
    }
    expect(life.asked).toEqual([]);
  });
});

describe('a release that is being kept', () => {
  it('[R8] whose pages are another release’s already is not kept at all', async () => {
    const keeper = life.release('a');
    life.release('b');
    life.served = { ...life.served, '/assets/wall-a.js': 'a' };
    await expect(keeper.install()).rejects.toThrow('another release');
    expect(life.kept.stores.size).toBe(0);
  });

  it('[R8] that could not be fetched whole leaves the one before as it was', async () => {
    const before = life.release('a');
    await before.install();
    const keeper = life.release('b');
    delete life.served?.['/assets/wall-b.js'];
    await expect(keeper.install()).rejects.toThrow('404');
    expect([...life.kept.stores.keys()]).toEqual(['basinbell-shell-a']);
    life.served = null;
    expect(await text(before.answer(navigate('/wall'), HERE))).toBe(page('a'));
  });

  it('[R8] tried again after it was there does not lose it', async () => {
    await life.release('a').install();
    life.served = null;
    await expect(life.keeper('a').install()).rejects.toThrow();
    expect(await text(life.keeper('a').answer(navigate('/wall'), HERE))).toBe(page('a'));
  });

  it('[R8] takes over only once every screen that is open has said that it is quiet, and lately', async () => {
    await life.release('a').install();
    const keeper = life.release('b');
    await keeper.install();
    life.windows = [
      { id: 'wall', path: '/wall' },
      { id: 'chair', path: '/chair/2' },
      { id: 'salon', path: '/salon' },
    ];
    await keeper.quiet('wall');
    expect(life.tookOver).toBe(0);
    life.now += 15_000;
    await keeper.quiet('chair');
    expect(life.tookOver).toBe(0);
    life.now += 5_000;
    await keeper.quiet('wall');
    expect(life.tookOver).toBe(1);
  });

  it('[R8] in charge drops what former ones kept, and nothing else', async () => {
    await life.release('a').install();
    const keeper = life.release('b');
    await keeper.install();
    life.kept.stores.set('of-somebody-else', new Map());
    await keeper.activate();
    expect([...life.kept.stores.keys()]).toEqual(['basinbell-shell-b', 'of-somebody-else']);
  });
});

describe('addresses', () => {
  it('[R8] of screens that start without the server', () => {
    expect(['/wall', '/chair/12', '/pocket/', '/salon', '/chair/1234', '/walls'].map(pageAt)).toEqual([
      '/wall',
      '/chair',
      '/pocket',
      null,
      null,
      null,
    ]);
  });
  it('[R8] of the files that a page names', () => {
    const html = '<script src="/assets/a.js"></script><link href="/assets/b.css"><link href="/icon.svg">';
    expect(assetsOf(html)).toEqual(['/assets/a.js', '/assets/b.css']);
  });
});

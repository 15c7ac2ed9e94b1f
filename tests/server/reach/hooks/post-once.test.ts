import { createServer as plainServer, type RequestListener, type Server } from 'node:http';
import { createServer as rawServer, type AddressInfo, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { poster, type Posted } from '../../../../server/reach/hooks/post-once.ts';
import { HandWorld } from './kit.ts';

const open: { close(): unknown; closeAllConnections?: () => void }[] = [];
const sockets: Socket[] = [];
afterEach(() => {
  for (const one of sockets.splice(0)) one.destroy();
  for (const one of open.splice(0)) {
    one.closeAllConnections?.();
    one.close();
  }
});

async function listening(server: Server | ReturnType<typeof rawServer>): Promise<number> {
  open.push(server);
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  return (server.address() as AddressInfo).port;
}

const receiver = (listener: RequestListener): Promise<number> => listening(plainServer(listener));

/** A receiver of bare bytes. */
const raw = (talk: (socket: Socket) => void): Promise<number> =>
  listening(
    rawServer((socket) => {
      sockets.push(socket);
      socket.on('error', () => undefined);
      talk(socket);
    }),
  );

interface Case {
  readonly url: string;
  readonly names?: Readonly<Record<string, readonly string[]>>;
  readonly ports?: readonly number[];
}

function posting({ url, names = {}, ports = [4680] }: Case) {
  const world = new HandWorld();
  const post = poster({
    names: {
      find: async (host) => {
        const found = /^[\d.]+$/.test(host) ? [host] : names[host];
        if (found === undefined) throw Object.assign(new Error('none'), { code: 'ENOTFOUND' });
        return found;
      },
    },
    own: { ports: () => ports, hostNames: new Set(['localhost']), addresses: () => ['127.0.0.1'] },
    timers: world,
    withinMs: 5_000,
  });
  return { world, ...post({ url, headers: { 'webhook-id': 'msg_1' }, body: '{"größe":1}' }) };
}

const sentTo = (port: number, more: Partial<Case> = {}): Promise<Posted> =>
  posting({ url: `http://127.0.0.1:${port}/bell`, ...more }).posted;

const failed = (why: string, status: number | null = null) => ({ outcome: 'failed', why, status });

describe('one attempt', () => {
  it('[R9] posts the body as it is, with its length in bytes', async () => {
    let heard: unknown = null;
    const port = await receiver((request, response) => {
      let body = '';
      request.setEncoding('utf8').on('data', (part: string) => (body += part));
      request.on('end', () => {
        heard = [request.method, request.url, request.headers['webhook-id'], request.headers['content-length'], body];
        response.writeHead(204).end();
      });
    });
    expect(await sentTo(port)).toEqual({ outcome: 'delivered', status: 204 });
    expect(heard).toEqual(['POST', '/bell', 'msg_1', '13', '{"größe":1}']);
  });

  it.each([404, 410, 429, 500, 503])('[R9] %i is no delivery', async (status) => {
    const port = await receiver((_request, response) => void response.writeHead(status).end('no'));
    expect(await sentTo(port)).toEqual(failed('answered', status));
  });

  it.each([301, 302, 307, 308])('[R9] a redirect (%i) is not followed', async (status) => {
    const asked: (string | undefined)[] = [];
    const port = await receiver((request, response) => {
      asked.push(request.url);
      response.writeHead(status, { location: '/elsewhere' }).end();
    });
    expect(await sentTo(port)).toEqual(failed('redirect', status));
    expect(asked).toEqual(['/bell']);
  });

  it('[R9] a body without end is not waited for, and cut', async () => {
    let cut: () => void = () => undefined;
    const isCut = new Promise<void>((resolve) => (cut = resolve));
    const port = await receiver((_request, response) => {
      response.on('close', cut);
      response.writeHead(200);
      const more = (): void => void (!response.destroyed && response.write('x'.repeat(65_536), more));
      more();
    });
    expect(await sentTo(port)).toEqual({ outcome: 'delivered', status: 200 });
    await isCut;
  });

  it.each<[string, (socket: Socket) => void]>([
    ['says nothing at all', () => undefined],
    ['begins an answer and stops', (socket) => socket.write('HTTP/1.1 20')],
    ['sends heads without end', (socket) => socket.write('HTTP/1.1 200 OK\r\nx: 1\r\n')],
    ['goes on promising', (socket) => socket.write('HTTP/1.1 100 Continue\r\n\r\n'.repeat(20))],
  ])('[R9] a receiver that %s is given up after the time for one attempt', async (_how, talk) => {
    let reached: () => void = () => undefined;
    const isReached = new Promise<void>((resolve) => (reached = resolve));
    const port = await raw((socket) => {
      socket.once('data', () => {
        talk(socket);
        reached();
      });
    });
    const { world, posted } = posting({ url: `http://127.0.0.1:${port}/` });
    await isReached;
    await world.pass(4_999);
    let over = false;
    void posted.then(() => (over = true));
    await world.settle();
    expect(over).toBe(false);
    await world.pass(1);
    expect(await posted).toEqual(failed('timeout'));
  });

  it.each<[string, (socket: Socket) => void]>([
    ['hangs up', (socket) => socket.end()],
    ['resets', (socket) => socket.resetAndDestroy()],
    ['speaks something else', (socket) => socket.write('SSH-2.0-lamp\r\n')],
    ['sends a head larger than any', (socket) => socket.write(`HTTP/1.1 200 OK\r\nx: ${'y'.repeat(100_000)}\r\n`)],
    [
      'changes the protocol',
      (socket) => socket.write('HTTP/1.1 101 Switching\r\nupgrade: x\r\nconnection: upgrade\r\n\r\n'),
    ],
  ])('[R9] a receiver that %s is told as broken', async (_how, talk) => {
    const port = await raw((socket) => socket.once('data', () => talk(socket)));
    expect(await sentTo(port)).toEqual(failed('broken'));
  });

  it('[R9] nobody there, no such name, no certificate: each is told as what it is', async () => {
    const gone = plainServer();
    const port = await listening(gone);
    await new Promise((done) => gone.close(done));
    expect(await sentTo(port)).toEqual(failed('refused'));
    expect(await posting({ url: 'http://nowhere.test/' }).posted).toEqual(failed('no-name'));
    const plain = await receiver((_request, response) => void response.end());
    expect(await posting({ url: `https://127.0.0.1:${plain}/` }).posted).toEqual(failed('tls'));
  });

  it('[R9] a name that leads to this server, or to no device, is not followed; one that also leads elsewhere is', async () => {
    const asked: (string | undefined)[] = [];
    const port = await receiver((request, response) => {
      asked.push(request.headers.host);
      response.end();
    });
    const ports = [port];
    const names = {
      'sly.test': ['127.0.0.1'],
      'cloud.test': ['169.254.169.254'],
      'both.test': ['169.254.1.1', '127.0.0.1'],
      'none.test': [],
    };
    const via = (host: string, more: Partial<Case> = {}) =>
      posting({ url: `http://${host}:${port}/`, names, ...more }).posted;
    expect(await via('sly.test', { ports })).toEqual(failed('own-address'));
    expect(await via('cloud.test')).toEqual(failed('no-device'));
    expect(await via('none.test')).toEqual(failed('no-name'));
    expect(asked).toEqual([]);
    expect(await via('both.test')).toEqual({ outcome: 'delivered', status: 200 });
    expect(asked).toEqual([`both.test:${port}`]);
  });

  it('[R9] a name server that hangs is given up after the time for one attempt, and what it says later is nothing', async () => {
    const world = new HandWorld();
    let say: (found: readonly string[]) => void = () => undefined;
    const post = poster({
      names: { find: () => new Promise((resolve) => (say = resolve)) },
      own: { ports: () => [], hostNames: new Set(), addresses: () => [] },
      timers: world,
      withinMs: 5_000,
    });
    const { posted } = post({ url: 'http://slow.test/', headers: {}, body: '' });
    await world.pass(5_000);
    expect(await posted).toEqual(failed('timeout'));
    say(['127.0.0.1']);
    await world.settle();
  });
});

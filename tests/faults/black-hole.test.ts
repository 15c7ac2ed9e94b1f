import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Socket } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { BlackHole } from '../support/black-hole.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

/** A server that answers each piece it gets with the same piece. */
async function echo(): Promise<{ address: string; got: () => string }> {
  let got = '';
  const links: Socket[] = [];
  const server = createServer((link) => {
    links.push(link);
    link.on('data', (bytes) => {
      got += bytes.toString();
      link.write(bytes);
    });
    link.on('error', () => undefined);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  ends.push(() => {
    for (const link of links) link.destroy();
    server.close();
  });
  return { address: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, got: () => got };
}

function client(address: string): { link: Socket; heard: () => string; closed: () => boolean } {
  const link = connect({ host: '127.0.0.1', port: Number(new URL(address).port) });
  let heard = '';
  let closed = false;
  link.on('data', (bytes) => (heard += bytes.toString()));
  link.on('close', () => (closed = true));
  link.on('error', () => undefined);
  ends.push(() => link.destroy());
  return { link, heard: () => heard, closed: () => closed };
}

describe('the black hole that tests put between a server and its screens', () => {
  it('forwards; swallows without closing; brings what was sent meanwhile', async () => {
    const server = await echo();
    const hole = await BlackHole.open(() => server.address);
    ends.push(() => hole.close());
    const early = client(hole.address);
    early.link.write('one ');
    await expect.poll(early.heard).toBe('one ');

    hole.swallow();
    early.link.write('two ');
    const late = client(hole.address);
    late.link.write('three ');
    // A whole exchange past the hole gives the swallowed bytes time to arrive, if they could.
    const direct = client(server.address);
    direct.link.write('past ');
    await expect.poll(direct.heard).toBe('past ');
    expect(server.got()).toBe('one past ');
    expect([early.closed(), late.closed()]).toEqual([false, false]);

    hole.release();
    await expect.poll(() => `${early.heard()}${late.heard()}`).toBe('one two three ');
  });

  it('can cut the links it has and takes new ones', async () => {
    const server = await echo();
    const hole = await BlackHole.open(() => server.address);
    ends.push(() => hole.close());
    const early = client(hole.address);
    early.link.write('a');
    await expect.poll(early.heard).toBe('a');
    hole.swallow();
    hole.cut();
    await expect.poll(early.closed).toBe(true);
    hole.release();
    const next = client(hole.address);
    next.link.write('b');
    await expect.poll(next.heard).toBe('b');
  });
});

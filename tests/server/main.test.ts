import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, it } from 'vitest';
import { ownCertificate } from '../support/own-certificate.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
const fresh = (): string => mkdtempSync(join(tmpdir(), 'basinbell-main-'));

interface Started {
  readonly child: ChildProcess;
  readonly said: () => string;
  /** Resolves with the first line that matches. */
  readonly line: (like: RegExp) => Promise<RegExpExecArray>;
  readonly ended: Promise<number>;
}

const started: ChildProcess[] = [];
function start(...args: readonly string[]): Started {
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts', ...args], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  started.push(child);
  let said = '';
  const watchers: ((line: string) => void)[] = [];
  for (const input of [child.stdout, child.stderr]) {
    createInterface({ input }).on('line', (text) => {
      said += `${text}\n`;
      for (const watch of watchers) watch(text);
    });
  }
  const ended = once(child, 'close').then(([code]) => Number(code));
  const line = (like: RegExp): Promise<RegExpExecArray> =>
    new Promise((resolve, reject) => {
      const look = (text: string): void => {
        const found = like.exec(text);
        if (found !== null) resolve(found);
      };
      for (const text of said.split('\n')) look(text);
      watchers.push(look);
      void ended.then(() => reject(new Error(said)));
    });
  return { child, said: () => said, line, ended };
}

afterEach(async () => {
  for (const child of started.splice(0)) {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill('SIGKILL');
      await once(child, 'exit');
    }
  }
});

describe('the process', () => {
  it('[R8] says where it is, ends in good order on SIGTERM, and takes what it acknowledged with it', async () => {
    const data = fresh();
    const ready = join(data, 'ready');
    const server = start('--port', '0', '--data', data, '--ready-file', ready);
    const [, address = ''] = await server.line(/Basinbell is listening on (http:\S+)\//);
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+$/);
    await server.line(/npm start -- --lan/);
    expect(readFileSync(ready, 'utf8')).toBe(`${address}/`);
    const response = await fetch(`${address}/api/v1/commands`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ id: 'command-0001', type: 'AddPlace', kind: 'chair', number: 3, label: '3' }),
    });
    expect(await response.json()).toMatchObject({ outcome: 'done' });
    server.child.kill('SIGTERM');
    expect(await server.ended).toBe(0);
    const store = new SqliteStore({ folder: data });
    expect(store.open().floor.places[3]).toMatchObject({ kind: 'chair' });
    store.close();
  });

  it('[W3] with a certificate listens by https, and without its own key ends with 2 and a sentence', async () => {
    const files = await ownCertificate({ from: -80, to: 3 });
    const server = start('--port', '0', '--data', fresh(), '--tls-cert', files.cert, '--tls-key', files.key);
    await server.line(/listening on https:\/\/127\.0\.0\.1:\d+\//);
    await server.line(/^The certificate ends on .* Renew it before\.$/);
    server.child.kill('SIGTERM');
    expect(await server.ended).toBe(0);
    const { key } = await ownCertificate();
    const refused = start('--port', '0', '--data', fresh(), '--tls-cert', files.cert, '--tls-key', key);
    expect(await refused.ended).toBe(2);
    expect(refused.said()).toMatch(/^✗ --tls-key .* does not belong to the certificate/m);
  });

  it('[W3] with --lan says that anyone on the network can act', async () => {
    const server = start('--port', '0', '--data', fresh(), '--lan');
    await server.line(/[Aa]nyone on this network can act/);
  });

  it('[W3] a port that is taken ends it with 3 and a sentence', async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const { port } = other.address() as AddressInfo;
    const server = start('--port', String(port), '--data', fresh());
    expect(await server.ended).toBe(3);
    expect(server.said()).toContain(`Port ${port} is taken by another program.`);
    other.close();
  });

  it('[W3] a data folder that cannot be one ends it with 4, a file that is not ours with 5', async () => {
    const folder = fresh();
    writeFileSync(join(folder, 'file'), 'x');
    const nowhere = start('--port', '0', '--data', join(folder, 'file', 'data'));
    writeFileSync(join(folder, 'floor.db'), 'some other program’s file, and long enough to be looked at '.repeat(20));
    const foreign = start('--port', '0', '--data', folder);
    expect(await Promise.all([nowhere.ended, foreign.ended])).toEqual([4, 5]);
    for (const { said } of [nowhere, foreign]) expect(said().trim()).toMatch(/^✗ .*\.$/);
    expect(readFileSync(join(folder, 'floor.db'), 'utf8')).toContain('some other program');
  });

  it('[T1] a hand-driven clock is refused where the network is let in', async () => {
    const server = start('--port', '0', '--data', fresh(), '--lan', '--clock-file', '/nowhere');
    expect(await server.ended).toBe(2);
    expect(server.said()).toContain('only a server on loopback');
    expect(existsSync('/nowhere')).toBe(false);
  });
});

import { copyFileSync, mkdtempSync, writeFileSync } from 'node:fs';
import { request } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { io } from 'socket.io-client';
import { afterEach, describe, expect, test } from 'vitest';
import { ConfigRefused } from '../../../server/config.ts';
import { lanAddresses } from '../../../server/addresses.ts';
import { datesTold, readCertificate } from '../../../server/tls/certificate.ts';
import { ServedCertificate } from '../../../server/tls/served-certificate.ts';
import { ownCertificate } from '../../support/own-certificate.ts';
import { TestServer } from '../routes/kit.ts';

const folder = (): string => mkdtempSync(join(tmpdir(), 'basinbell-tls-'));
const refusal = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof ConfigRefused) return error.message;
    throw error;
  }
  throw new Error('nothing was thrown');
};

describe('the files of a certificate', () => {
  test('give its names, in lower case and without those that have a star', async () => {
    const files = await ownCertificate();
    expect(readCertificate(files).names).toEqual(['bell.example', 'localhost']);
  });

  test('that are missing, unreadable, no certificate or of another key are refused in a sentence', async () => {
    const files = await ownCertificate();
    const other = await ownCertificate();
    const noise = join(folder(), 'noise.pem');
    writeFileSync(noise, 'a shopping list');
    expect(refusal(() => readCertificate({ ...files, cert: '/nowhere/c.pem' }))).toBe(
      '--tls-cert: there is no file /nowhere/c.pem.',
    );
    expect(refusal(() => readCertificate({ ...files, key: '/nowhere/k.pem' }))).toMatch(/--tls-key: there is no file/);
    // A folder is there, and cannot be read.
    expect(refusal(() => readCertificate({ ...files, key: folder() }))).toMatch(/cannot be read by this user/);
    expect(refusal(() => readCertificate({ ...files, cert: noise }))).toMatch(/is not a certificate in PEM form/);
    expect(refusal(() => readCertificate({ ...files, key: noise }))).toMatch(/is not a private key in PEM form/);
    expect(refusal(() => readCertificate({ ...files, key: other.key }))).toMatch(/does not belong to the certificate/);
  });

  test('that have ended, end soon or have not begun are served, and said', async () => {
    const told = async (from: number, to: number) =>
      datesTold(readCertificate(await ownCertificate({ from, to })), Date.now());
    expect(await told(-1, 90)).toBeNull();
    expect(await told(-90, -1)).toMatch(/^The certificate ended on \d{4}-\d\d-\d\d: browsers will refuse/);
    expect(await told(-80, 3)).toMatch(/^The certificate ends on .* Renew it before/);
    expect(await told(2, 90)).toMatch(/begins only on .* clock is wrong/);
  });

  test('make addresses of its names, by https', () => {
    expect(lanAddresses(4680, ['bell.example', 'localhost'])[0]).toBe('https://bell.example:4680/');
    expect(lanAddresses(4680, []).every((address) => address.startsWith('https://'))).toBe(true);
    expect(lanAddresses(4680).every((address) => address.startsWith('http://'))).toBe(true);
  });
});

describe('a server with a certificate', () => {
  const open: TestServer[] = [];
  afterEach(async () => {
    for (const server of open.splice(0)) await server.app.http.close();
  });

  async function served() {
    const files = await ownCertificate();
    const { cert, key } = readCertificate(files);
    const server = await TestServer.start('/nowhere', null, { cert, key });
    open.push(server);
    await server.app.http.listen({ host: '127.0.0.1', port: 0 });
    return { files, server, port: (server.app.http.server.address() as AddressInfo).port };
  }

  function ask(port: number, ca: string, headers: Record<string, string>): Promise<number> {
    return new Promise((resolve, reject) => {
      const asked = request({ host: 'localhost', port, path: '/api/v1/about', ca, headers }, (response) => {
        response.resume();
        resolve(response.statusCode ?? 0);
      });
      asked.on('error', reject);
      asked.end();
    });
  }

  /** The serial number of what it shows to whoever links now. */
  function shown(port: number, ca: string): Promise<string> {
    return new Promise((resolve, reject) => {
      const socket = connect(
        { host: 'localhost', port, ca, servername: 'localhost', rejectUnauthorized: false },
        () => {
          resolve(socket.getPeerCertificate().serialNumber);
          socket.destroy();
        },
      );
      socket.on('error', reject);
    });
  }

  test('[W3] answers by https, to its own pages alone', async () => {
    const { files, port } = await served();
    expect(await ask(port, files.trust, {})).toBe(200);
    expect(await ask(port, files.trust, { origin: `https://localhost:${port}` })).toBe(200);
    expect(await ask(port, files.trust, { origin: 'https://elsewhere.example' })).toBe(403);
    await expect(fetch(`http://127.0.0.1:${port}/api/v1/about`)).rejects.toThrow();
  });

  test('[W3] screens link by secure websocket', async () => {
    const { files, port } = await served();
    const socket = io(`https://localhost:${port}`, {
      transports: ['websocket'],
      reconnection: false,
      forceNew: true,
      ca: files.trust,
    } as object);
    await new Promise<void>((resolve, reject) => {
      socket.once('connect', resolve);
      socket.once('connect_error', reject);
    });
    expect(socket.connected).toBe(true);
    socket.disconnect();
  });

  test('takes a renewed one into use without a restart, and keeps the former while files do not fit', async () => {
    const { files, server, port } = await served();
    const warned: string[] = [];
    const log = { info: () => undefined, warn: (_: object, message: string) => void warned.push(message) };
    let look = (): void => undefined;
    const every = (_ms: number, task: () => void) => {
      look = task;
      return () => undefined;
    };
    const timers = { soon: () => undefined, after: () => () => undefined, every };
    const certificate = new ServedCertificate(files, { timers, log });
    certificate.renewOn(server.app.http.server);
    const first = await shown(port, files.trust);
    const next = await ownCertificate();
    copyFileSync(next.cert, files.cert);
    look();
    expect(await shown(port, files.trust)).toBe(first);
    expect(warned).toHaveLength(1);
    copyFileSync(next.key, files.key);
    look();
    expect(await shown(port, next.trust)).not.toBe(first);
    expect(certificate.pem.cert).toBe(next.trust);
  });
});

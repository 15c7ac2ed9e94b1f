import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { PROTOCOL } from '../../../shared/protocol.ts';
import { visitRecord } from '../../../shared/schemas/events.ts';
import { about, snapshot, wireAnswer } from '../../../shared/schemas/wire.ts';
import type { VisitRecord } from '../../../shared/wire.ts';
import { NOON } from '../engine/kit.ts';
import { TestServer } from './kit.ts';

const folder = mkdtempSync(join(tmpdir(), 'basinbell-pages-'));
mkdirSync(join(folder, 'assets'));
for (const page of ['index', 'wall', 'chair', 'pocket', 'salon'])
  writeFileSync(join(folder, `${page}.html`), `<p>${page}`);
writeFileSync(join(folder, 'assets', 'wall-1a2b.js'), '1');

let server: TestServer;
beforeAll(async () => {
  server = await (await TestServer.start(folder, () => Promise.resolve({ url: 'http://127.0.0.1:1/' }))).setUp();
});
afterAll(() => server.app.http.close());

describe('the API', () => {
  it('[S7] answers with outcome, version and revision, never with state; what is left out is null', async () => {
    const { status, body } = await server.post({ id: 'visit-0001', type: 'BeginApplication', chair: 2 });
    expect(status).toBe(200);
    expect(wireAnswer.parse(body)).toEqual({
      outcome: 'done',
      visit: 'visit-0001',
      version: 2,
      revision: server.engine.revision,
    });
  });

  it('[S7] tells the floor as a snapshot that fits its schema', async () => {
    const floor = await server.floor();
    expect(snapshot.parse(floor)).toEqual(floor);
    expect(floor).toMatchObject({ stream: 'floor', protocol: PROTOCOL, now: NOON, revision: server.engine.revision });
    expect(Object.keys(floor.entities)).toEqual(
      expect.arrayContaining([
        'salon',
        'place/1',
        'person/person-ama',
        'service/service-1',
        'directions/directions-1',
        'visit/visit-0001',
        'gap',
      ]),
    );
  });

  it('[X1] tells a visit with its corrections, its bells and its words, also when it is long over', async () => {
    const visit = 'visit-0002';
    await server.send(
      { type: 'SeatVisit', chair: 3, service: 'service-1', stylist: null, label: 'red hat' },
      { id: visit },
    );
    server.hand.pass(5 * MINUTE);
    await server.send({ type: 'BeginApplication', chair: 3, visit, service: null });
    const { version } = server.engine.floor.visits[visit]?.facts ?? { version: 0 };
    await server.send({ type: 'CorrectTime', visit, of: version, to: NOON + 3 * MINUTE, reason: null });
    server.hand.pass(31 * MINUTE);
    server.engine.turn();
    await server.send({ type: 'BeginRinse', chair: 3, visit, basin: 91 });
    const during = (await server.raw('GET', `/api/v1/visits/${visit}`)).body as unknown as VisitRecord;
    await server.send({ type: 'ClearAndOff', visit });
    await server.send({ type: 'MoveOn', visit, to: 'finished' });
    const end = (await server.raw('GET', `/api/v1/visits/${visit}`)).body as unknown as VisitRecord;
    server.hand.pass(25 * 60 * MINUTE);
    await server.send({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null });
    expect(server.engine.floor.visits[visit]).toBeUndefined();
    const later = (await server.raw('GET', `/api/v1/visits/${visit}`)).body as unknown as VisitRecord;
    expect(visitRecord.parse(later)).toEqual(later);
    expect(during.facts.passes[0]?.begun?.at).toBe(NOON + 3 * MINUTE);
    expect(later.facts).toEqual(end.facts);
    expect(later.words).toEqual({ [`visit/${visit}/label`]: 'red hat' });
    expect(later.events.map(({ version: place }) => place)).toEqual(later.events.map((_, i) => i + 1));
    const types = later.events.map(({ event }) => event.type);
    expect(types).toEqual(
      expect.arrayContaining(['VisitSeated', 'TimeCorrected', 'BellRung', 'RinseBegun', 'BellEnded', 'VisitEnded']),
    );
  });

  it('[S8] describes itself: every route, every command, every field', async () => {
    const { body } = await server.raw('GET', '/api/v1/openapi.json');
    const text = JSON.stringify(body);
    const { paths } = body as unknown as { paths: Record<string, unknown> };
    expect(Object.keys(paths).sort()).toEqual([
      '/api/v1/about',
      '/api/v1/backups',
      '/api/v1/commands',
      '/api/v1/floor',
      '/api/v1/hand-clock/turn',
      '/api/v1/hooks',
      '/api/v1/hooks/{id}',
      '/api/v1/hooks/{id}/test',
      '/api/v1/model-day',
      '/api/v1/problems/{code}',
      '/api/v1/push',
      '/api/v1/push/receipts',
      '/api/v1/push/subscriptions/{device}',
      '/api/v1/push/test',
      '/api/v1/visits/{id}',
      '/healthz',
      '/readyz',
    ]);
    for (const word of ['BeginRinse', 'ReportBurns', 'WriteDirections', 'happenedAt', 'minAfterMs'])
      expect(text).toContain(`"${word}"`);
  });

  it('[T1] takes a turn at the hand’s time, from this machine only', async () => {
    server.hand.pass(MINUTE);
    const { body } = await server.raw('POST', '/api/v1/hand-clock/turn');
    expect(body).toEqual({ now: server.engine.heartbeat().now, revision: server.engine.revision });
    const far = await server.app.http.inject({
      method: 'POST',
      url: '/api/v1/hand-clock/turn',
      headers: { host: 'localhost' },
      remoteAddress: '192.0.2.7',
    });
    expect([far.statusCode, far.json()]).toMatchObject([403, { code: 'loopback-only' }]);
  });

  it('[S8] says what it is, what a problem means, and starts the model day', async () => {
    const told = (await server.raw('GET', '/api/v1/about')).body;
    expect(about.parse(told)).toMatchObject({ lan: false, handClock: true, modelDay: true });
    expect((await server.raw('GET', '/api/v1/problems/again')).body).toEqual({
      code: 'again',
      status: 503,
      title: 'Try again',
    });
    expect((await server.raw('POST', '/api/v1/model-day')).body).toEqual({ url: 'http://127.0.0.1:1/' });
    expect((await server.raw('GET', '/healthz')).body).toEqual({ alive: true });
  });
});

describe('the pages', () => {
  it('[W3] each screen has its address, and is asked for anew each time', async () => {
    const addresses = {
      '/': 'index',
      '/wall': 'wall',
      '/wall?from=13': 'wall',
      '/chair': 'chair',
      '/chair/4': 'chair',
      '/pocket': 'pocket',
      '/salon': 'salon',
    };
    for (const [address, page] of Object.entries(addresses)) {
      const told = await server.raw('GET', address);
      expect(told.body).toBe(`<p>${page}`);
      expect(told.headers['cache-control']).toBe('no-cache');
    }
  });

  it('[W3] what carries a hash in its name is kept for ever', async () => {
    expect((await server.raw('GET', '/assets/wall-1a2b.js')).headers['cache-control']).toContain('immutable');
  });

  it('[R8] a file that a later build brings is served at once, by a server that runs', async () => {
    expect((await server.raw('GET', '/assets/wall-later.js')).body.code).toBe('not-found');
    writeFileSync(join(folder, 'assets', 'wall-later.js'), '2');
    const told = await server.raw('GET', '/assets/wall-later.js');
    expect([told.status, told.body]).toEqual([200, '2']);
  });

  it('[R8] what starts the screens without the server is asked for anew each time', async () => {
    expect((await server.raw('GET', '/sw.js')).body.code).toBe('not-found');
    writeFileSync(join(folder, 'sw.js'), '3');
    const told = await server.raw('GET', '/sw.js');
    expect(told.headers['cache-control']).toBe('no-cache');
    expect(told.headers['content-type']).toContain('javascript');
  });

  it('[W3] nothing beside the pages can be had', async () => {
    writeFileSync(join(folder, 'releases.json'), '{}');
    for (const path of [
      '/releases.json',
      '/wall.html',
      '/assets/',
      '/assets/../releases.json',
      '/assets/..%2freleases.json',
      '/assets/%2e%2e/%2e%2e/etc/hostname',
    ]) {
      const told = await server.raw('GET', path);
      expect([path, told.status]).toEqual([
        path,
        expect.toSatisfy((status: number) => status === 404 || status === 403),
      ]);
    }
  });

  it('[W3] may load and link to this server only, over plain http too', async () => {
    const { headers } = await server.raw('GET', '/wall');
    const policy = String(headers['content-security-policy']);
    expect(policy).toContain("default-src 'self'");
    expect(policy).not.toContain('upgrade-insecure-requests');
    expect(headers['strict-transport-security']).toBeUndefined();
  });

  it('[W3] a person at a wrong address gets the first page, a program a problem', async () => {
    const html = { accept: 'text/html,application/xhtml+xml' };
    const told = await server.raw('GET', '/chairs/4', undefined, html);
    expect(told.status).toBe(404);
    expect(told.body).toBe('<p>index');
    expect((await server.raw('GET', '/api/v1/chairs', undefined, html)).body.code).toBe('not-found');
    expect((await server.raw('GET', '/chairs/4')).body.code).toBe('not-found');
    expect((await server.raw('GET', '/favicon.ico')).headers['location']).toBe('/icon.svg');
  });

  it('[W3] a page that is not built yet is not found', async () => {
    expect((await server.raw('GET', '/sheet/visit-0001')).body.code).toBe('not-found');
  });
});

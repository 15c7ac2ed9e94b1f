import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HOUR, MINUTE } from '../../../core/time.ts';
import type { ProblemCode } from '../../../shared/problem-code.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import { NOON } from '../engine/kit.ts';
import { TestServer, type Told } from './kit.ts';

let server: TestServer;
beforeAll(async () => {
  server = await (await TestServer.start()).setUp();
  await server.send(
    { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: 'red hat' },
    { id: 'visit-0001' },
  );
  await server.send({ type: 'BeginApplication', chair: 1, visit: 'visit-0001', service: null });
  await server.send({ type: 'SeatVisit', chair: 3, service: null, stylist: null, label: null }, { id: 'visit-0003' });
});
afterAll(() => server.app.http.close());

/** A problem document with a sentence, and nothing stored for it. */
async function refuses(code: ProblemCode, status: number, ask: () => Promise<Told>): Promise<Told['body']> {
  const { revision } = server.engine;
  const { status: given, type, body } = await ask();
  expect(body).toMatchObject({ code, status });
  expect(given).toBe(status);
  expect(type).toContain('application/problem+json');
  expect(problem.parse(body)).toEqual(body);
  expect(body.detail).toMatch(/^[A-Z].* .*\.$/);
  expect(body.type).toBe(`/api/v1/problems/${code}`);
  expect(server.engine.revision).toBe(revision);
  return body;
}

const water = { id: 'command-x001', type: 'BeginRinse', chair: 1 };

describe('a body that cannot be understood', () => {
  const cases: readonly [string, unknown, string | null][] = [
    ['an unknown field', { ...water, colour: 'red' }, 'colour'],
    ['a field of another command', { ...water, service: 'service-1' }, 'service'],
    ['a wrong type', { ...water, chair: '1' }, 'chair'],
    ['a fraction of a chair', { ...water, chair: 1.5 }, 'chair'],
    ['a missing field', { id: 'command-x001', type: 'BeginRinse' }, 'chair'],
    ['an unknown command', { ...water, type: 'BeginLunch' }, 'type'],
    ['a command called after a property of every object', { ...water, type: 'constructor' }, 'type'],
    ['no command', { id: 'command-x001' }, 'type'],
    ['no id', { type: 'BeginRinse', chair: 1 }, 'id'],
    ['an id too short', { ...water, id: 'x' }, 'id'],
    ['an id with a path in it', { ...water, id: '../../../etc' }, 'id'],
    ['a negative time', { ...water, happenedAt: -1 }, 'happenedAt'],
    ['a fraction of a millisecond', { ...water, happenedAt: 1.5 }, 'happenedAt'],
    ['a number beyond whole ones', { ...water, happenedAt: 1e300 }, 'happenedAt'],
    ['an array', [water], null],
    ['null', null, null],
    ['a word', 'water on', null],
    ['a label too long', { id: 'command-x001', type: 'AddPlace', kind: 'chair', number: 7, label: 'seven' }, 'label'],
    ['a label of blanks', { id: 'command-x001', type: 'AddPlace', kind: 'chair', number: 7, label: '  ' }, 'label'],
    [
      'a label with a control character',
      { id: 'command-x001', type: 'AddPlace', kind: 'chair', number: 7, label: 'a\u0000' },
      'label',
    ],
    [
      'a zone that is none',
      { id: 'command-x001', type: 'SetUpSalon', name: 'S', zone: 'Mars/Base', language: 'en', hourCycle: 'h23' },
      'zone',
    ],
    [
      'a language that is none',
      { id: 'command-x001', type: 'SetUpSalon', name: 'S', zone: 'UTC', language: '!!', hourCycle: 'h23' },
      'language',
    ],
  ];
  it.each(cases)('[S8] %s is refused, naming the field', async (_what, body, field) => {
    const told = await refuses('invalid-body', 400, () => server.post(body));
    expect(told.field).toBe(field);
    expect(told.expected).not.toBeNull();
    expect(server.disk.answerOf('command-x001')).toBeNull();
  });

  it('[S8] never repeats what was sent in a field', async () => {
    const told = await refuses('invalid-body', 400, () =>
      server.post({ id: 'command-x001', type: 'AddPlace', kind: 'secret', number: 7, label: 'x' }),
    );
    expect(JSON.stringify(told)).not.toContain('secret');
  });

  it('[S8] an id refused so can be used for the right body', async () => {
    const body = { id: 'command-x002', type: 'AddPlace', kind: 'chair', number: 8, label: '8' };
    await refuses('invalid-body', 400, () => server.post({ ...body, number: 0 }));
    expect((await server.post(body)).body.outcome).toBe('done');
  });
});

describe('a request of the wrong shape', () => {
  const url = '/api/v1/commands';
  it('[S8] malformed JSON', async () => {
    await refuses('invalid-json', 400, () => server.raw('POST', url, '{"id": "command-x001",'));
    await refuses('invalid-json', 400, () => server.raw('POST', url, ''));
    await refuses('invalid-json', 400, () => server.raw('POST', url, '{"__proto__": {"a": 1}}'));
  });

  it('[S8] another content type, or none', async () => {
    const body = JSON.stringify(water);
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', 'application/xml', 'nonsense']) {
      await refuses('unsupported-media-type', 415, () => server.raw('POST', url, body, { 'content-type': type }));
    }
  });

  it('[S8] a body over the limit', async () => {
    const told = await refuses('too-large', 413, () => server.post({ ...water, note: 'x'.repeat(40_000) }));
    expect(told.expected).toBe('at most 32768 bytes');
  });

  it('[S8] a wrong method says which are right', async () => {
    for (const method of ['GET', 'PUT', 'DELETE'] as const) {
      const { headers } = await server.raw(method, url);
      expect(headers['allow']).toBe('POST');
      await refuses('method-not-allowed', 405, () => server.raw(method, url));
    }
    await refuses('method-not-allowed', 405, () => server.raw('DELETE', '/api/v1/visits/visit-0001'));
  });

  it('[S8] an unknown address', async () => {
    for (const path of ['/nope', '/api/v1', '/api/v2/floor', '/api/v1/visits', '/..%2f..%2fetc/passwd', '/%']) {
      await refuses('not-found', 404, () => server.raw('GET', path));
    }
    await refuses('not-found', 404, () => server.raw('GET', '/api/v1/visits/visit-none'));
    await refuses('invalid-body', 400, () => server.raw('GET', '/api/v1/visits/x'));
  });

  it('[S8] a page of another address, by origin or by a name made to lead here', async () => {
    const body = JSON.stringify(water);
    await refuses('foreign-origin', 403, () => server.raw('POST', url, body, { origin: 'http://elsewhere.example' }));
    await refuses('foreign-origin', 403, () => server.raw('POST', url, body, { origin: 'null' }));
    await refuses('foreign-origin', 403, () =>
      server.raw('POST', url, body, { host: 'elsewhere.example:80', origin: 'http://elsewhere.example:80' }),
    );
    await refuses('foreign-origin', 403, () =>
      server.raw('GET', '/api/v1/floor', undefined, { host: 'elsewhere.example' }),
    );
  });
});

describe('a command that does not fit', () => {
  const visit = 'visit-0001';
  it('[S2] water on at an unknown chair', async () => {
    const told = await refuses('unknown-place', 422, () => server.post({ ...water, id: 'command-x010', chair: 77 }));
    expect(told.place).toBe(77);
    expect(told.detail).toContain('77');
  });

  it('[S7] the wrong stage', async () => {
    await refuses('wrong-stage', 409, () => server.send({ type: 'FinishApplication', visit: 'visit-0003' }));
  });

  it('[S7] one that no longer fits is told what others did since', async () => {
    const told = await refuses('moved-on', 409, () => server.send({ type: 'MoveOn', visit, to: 'prep' }, { seen: 1 }));
    expect(told.since.map(({ type }) => type)).toContain('ApplicationBegun');
    expect(told.visit).toBe(visit);
    expect(told.version).toBe(server.engine.floor.visits[visit]?.facts.version);
  });

  it('[X3] a future and an ancient time', async () => {
    const future = await refuses('time-in-future', 422, () =>
      server.send({ type: 'FinishApplication', visit }, { happenedAt: NOON + MINUTE }),
    );
    expect(future.field).toBe('happenedAt');
    await refuses('time-too-old', 422, () =>
      server.send({ type: 'FinishApplication', visit }, { happenedAt: NOON - 48 * HOUR }),
    );
    await refuses('time-too-old', 422, () => server.send({ type: 'FinishApplication', visit }, { happenedAt: 0 }));
  });

  it('[S8] an id used twice with another body', async () => {
    await server.post({ id: 'command-x020', type: 'SeatVisit', chair: 2 });
    await refuses('id-reused', 409, () => server.post({ id: 'command-x020', type: 'SeatVisit', chair: 3 }));
    expect((await server.post({ id: 'command-x020', type: 'SeatVisit', chair: 2 })).body.outcome).toBe('done');
  });

  it('[S8] unknown people, services and visits', async () => {
    await refuses('unknown-person', 422, () =>
      server.send({ type: 'FinishApplication', visit }, { by: 'person-nobody' }),
    );
    await refuses('unknown-service', 422, () =>
      server.send({ type: 'ChooseService', visit: 'visit-0003', service: 'service-none' }),
    );
    await refuses('unknown-visit', 422, () => server.send({ type: 'TakeBack', visit: 'visit-none' }));
  });

  it('[S8] storage trouble says when to come again, and keeps nothing', async () => {
    server.disk.full = true;
    const { headers } = await server.post({ id: 'command-x030', type: 'SeatVisit', chair: 3 });
    expect(headers['retry-after']).toBe('2');
    await refuses('again', 503, () => server.post({ id: 'command-x030', type: 'SeatVisit', chair: 3 }));
    server.disk.full = false;
    expect((await server.post({ id: 'command-x030', type: 'SeatVisit', chair: 3 })).status).toBe(200);
  });

  it('[S2] with a full disk water on is answered 202', async () => {
    server.disk.full = true;
    const { status, body } = await server.post({ id: 'command-x040', type: 'BeginRinse', chair: 1, basin: 91 });
    expect([status, body.outcome]).toEqual([202, 'kept-unsaved']);
    expect((await server.raw('GET', '/readyz')).status).toBe(503);
    server.disk.full = false;
    expect((await server.raw('GET', '/readyz')).status).toBe(200);
    expect(server.engine.heartbeat().unsaved).toBe(false);
  });
});

it('[S8] no word of a client is in the log of the process', () => {
  expect(server.logged).not.toContain('red hat');
});

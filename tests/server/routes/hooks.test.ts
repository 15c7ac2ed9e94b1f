import { createServer, type IncomingHttpHeaders, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { Webhook } from 'standardwebhooks';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { HookDocument, HookMade, HookTold } from '../../../shared/hooks.ts';
import { hookDocument, hookMade, hooksTold, hookTested } from '../../../shared/schemas/hooks.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import { MOST_HOOKS } from '../../../server/reach/hooks/hooks.ts';
import { StorageError } from '../../../server/store/store.ts';
import { TestServer, type Told } from './kit.ts';

interface Heard {
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
  readonly document: HookDocument;
}

/** A lamp: what it heard, and how it answers. */
class Lamp {
  readonly heard: Heard[] = [];
  answer: (response: ServerResponse) => void = (response) => void response.writeHead(204).end();
  #waiting: (() => void)[] = [];
  readonly #server: Server = createServer((request, response) => {
    let body = '';
    request.setEncoding('utf8').on('data', (part: string) => (body += part));
    request.on('end', () => {
      this.heard.push({ headers: request.headers, body, document: JSON.parse(body) as HookDocument });
      this.answer(response);
      for (const go of this.#waiting.splice(0)) go();
    });
  });

  async on(): Promise<this> {
    await new Promise<void>((done) => this.#server.listen(0, '127.0.0.1', done));
    return this;
  }

  off(): void {
    this.#server.closeAllConnections();
    this.#server.close();
  }

  get url(): string {
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}/bell`;
  }

  get steps(): string[] {
    return this.heard.map(({ document }) => document.type);
  }

  /** Resolves once it has heard this step. */
  async hears(step: string): Promise<Heard> {
    for (;;) {
      const found = this.heard.find(({ document }) => document.data.step === step);
      if (found !== undefined) return found;
      await new Promise<void>((go) => this.#waiting.push(go));
    }
  }
}

let server: TestServer;
let lamps: Lamp[];
beforeEach(async () => {
  server = await (await TestServer.start()).setUp();
  lamps = [];
});
afterEach(async () => {
  for (const lamp of lamps) lamp.off();
  await server.app.http.close();
});

async function lamp(): Promise<Lamp> {
  const one = await new Lamp().on();
  lamps.push(one);
  return one;
}

/** Other routes' answers are typed as those of commands. */
const bodyOf = <T>({ body }: Told): T => body as unknown as T;

const add = (url: string, name = 'Lamp'): Promise<Told> =>
  server.raw('POST', '/api/v1/hooks', JSON.stringify({ name, url }));

async function added(one: Lamp): Promise<HookMade> {
  const told = await add(one.url);
  expect(told.status).toBe(201);
  return hookMade.parse(told.body);
}

const list = async (): Promise<readonly HookTold[]> => hooksTold.parse((await server.raw('GET', '/api/v1/hooks')).body);

async function refuses(ask: Promise<Told>, status: number, code: string, field: string | null = null): Promise<void> {
  const { status: given, body } = await ask;
  expect([given, body.code, body.field]).toEqual([status, code, field]);
  expect(problem.parse(body)).toEqual(body);
}

const burn = () => server.send({ type: 'ReportBurns', chair: 1, visit: null, place: 'skin' });

describe('hooks', () => {
  it('[R9] a burn at a chair is rung at the lamp, signed as the reference library wants it', async () => {
    const one = await lamp();
    const { hook, secret } = await added(one);
    await server.app.http.listen({ port: 0, host: '127.0.0.1' });
    await burn();
    const { headers, body, document } = await one.hears('rung');
    expect(new Webhook(secret).verify(body, headers as Record<string, string>)).toEqual(document);
    expect(hookDocument.parse(document)).toEqual(document);
    expect(document).toMatchObject({
      type: 'bell.rung',
      data: { kind: 'burns', level: 'DANGER', cause: 'burns', subject: { of: 'chair', chair: 1, label: '1' } },
      standing: { DANGER: 1 },
      untaken: { DANGER: 1 },
    });
    expect(headers['content-type']).toBe('application/json');
    expect(await list()).toMatchObject([{ id: hook.id, on: true, failing: null }]);
  });

  it('[R8] as the server starts, each hears once what stands', async () => {
    const one = await lamp();
    await added(one);
    await burn();
    await server.app.http.listen({ port: 0, host: '127.0.0.1' });
    const { document } = await one.hears('standing');
    expect(document).toMatchObject({ data: { why: 'server-started', level: null }, standing: { DANGER: 1 } });
    expect(one.steps).toEqual(['bell.standing']);
  });

  it('[R9] one that hangs delays neither a command nor another hook', async () => {
    const [stuck, well] = [await lamp(), await lamp()];
    stuck.answer = () => undefined;
    await added(stuck);
    await added(well);
    await server.app.http.listen({ port: 0, host: '127.0.0.1' });
    expect((await burn()).status).toBe(200);
    await well.hears('rung');
    expect((await server.send({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 })).status).toBe(200);
    expect(stuck.steps).toEqual(['bell.standing']);
    expect((await list()).map(({ waiting }) => waiting > 0)).toContain(true);
  });

  it('[R9] a test takes the path of a step and says what came of it', async () => {
    const one = await lamp();
    const { hook, secret } = await added(one);
    const test = async () => hookTested.parse((await server.raw('POST', `/api/v1/hooks/${hook.id}/test`)).body);
    expect(await test()).toMatchObject({ outcome: 'delivered', status: 204 });
    const { headers, body, document } = await one.hears('test');
    expect(new Webhook(secret).verify(body, headers as Record<string, string>)).toEqual(document);
    expect((await list())[0]).toMatchObject({ failing: null, waiting: 0, deliveredAt: server.engine.heartbeat().now });
    one.answer = (response) => void response.writeHead(401).end();
    expect(await test()).toMatchObject({ outcome: 'failed', why: 'answered', status: 401 });
    expect((await list())[0]).toMatchObject({ failing: { why: 'answered', status: 401, givenUp: 0 } });
  });

  it('[R9] put off it hears nothing but tests; put on again it hears what stands', async () => {
    const one = await lamp();
    const { hook } = await added(one);
    await server.app.http.listen({ port: 0, host: '127.0.0.1' });
    await one.hears('standing');
    const turn = (on: boolean) => server.raw('PATCH', `/api/v1/hooks/${hook.id}`, JSON.stringify({ on }));
    expect(bodyOf<HookTold>(await turn(false)).on).toBe(false);
    await burn();
    await server.raw('POST', `/api/v1/hooks/${hook.id}/test`);
    expect(one.steps).toEqual(['bell.standing', 'bell.test']);
    one.heard.length = 0;
    expect(bodyOf<HookTold>(await turn(true)).on).toBe(true);
    expect((await one.hears('standing')).document.data.why).toBe('put-on');
  });

  it('[R9] the secret is told once, and kept', async () => {
    const one = await lamp();
    const { secret } = await added(one);
    expect(secret).toMatch(/^whsec_/);
    expect(JSON.stringify(await list())).not.toContain('whsec_');
    expect(server.disk.reach.hooks()).toMatchObject([{ url: one.url, secret, on: true }]);
    expect(server.logged).not.toContain('whsec_');
  });

  it('[R9] one removed is forgotten, and hears no more', async () => {
    const one = await lamp();
    const { hook } = await added(one);
    expect((await server.raw('DELETE', `/api/v1/hooks/${hook.id}`)).status).toBe(204);
    expect([await list(), server.disk.reach.hooks()]).toEqual([[], []]);
    await refuses(server.raw('DELETE', `/api/v1/hooks/${hook.id}`), 404, 'not-found');
    await refuses(server.raw('PATCH', `/api/v1/hooks/${hook.id}`, '{"on":true}'), 404, 'not-found');
    await refuses(server.raw('POST', `/api/v1/hooks/${hook.id}/test`), 404, 'not-found');
  });

  it('[S8] what cannot be meant is refused and not kept', async () => {
    const at = await server.app.http.listen({ port: 0, host: '127.0.0.1' });
    await refuses(add(`${at}/api/v1/commands`), 400, 'invalid-body', 'url');
    await refuses(add('lamp'), 400, 'invalid-body', 'url');
    await refuses(add('http://u:p@lamp/'), 400, 'invalid-body', 'url');
    await refuses(add(`http://lamp/${'x'.repeat(500)}`), 400, 'invalid-body', 'url');
    await refuses(add('http://lamp/', '  '), 400, 'invalid-body', 'name');
    await refuses(
      server.raw('POST', '/api/v1/hooks', '{"name":"x","url":"http://lamp/","secret":"mine"}'),
      400,
      'invalid-body',
      'secret',
    );
    await refuses(server.raw('PATCH', '/api/v1/hooks/hook-0001', '{"on":"yes"}'), 400, 'invalid-body', 'on');
    await refuses(server.raw('DELETE', '/api/v1/hooks/x'), 400, 'invalid-body', 'id');
    expect(await list()).toEqual([]);
  });

  it('[S8] the description of the API says what is POSTed, field by field', async () => {
    const { body } = await server.raw('GET', '/api/v1/openapi.json');
    const { webhooks } = body as unknown as { webhooks: Record<string, unknown> };
    const told = JSON.stringify(webhooks);
    const one = await lamp();
    const { hook } = await added(one);
    await server.raw('POST', `/api/v1/hooks/${hook.id}/test`);
    const { document } = await one.hears('test');
    const fields = [document, document.data, document.data.subject].flatMap((part) => Object.keys(part));
    for (const field of fields) expect(told).toContain(`"${field}":`);
  });

  it('[S8] no more than a house has lamps', async () => {
    for (let n = 0; n < MOST_HOOKS; n += 1) expect((await add(`http://lamp-${n}/`)).status).toBe(201);
    await refuses(add('http://one-more/'), 422, 'out-of-range', 'hooks');
  });

  it('[S8] what the disk does not take is asked again', async () => {
    server.disk.reach.keepHook = () => {
      throw new StorageError('full', new Error('no space'));
    };
    await refuses(add('http://lamp/'), 503, 'again');
    expect(await list()).toEqual([]);
  });
});

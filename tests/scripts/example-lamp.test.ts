import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { createInterface, type Interface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { documentOf } from '../../server/reach/hooks/hook-document.ts';
import { freshSecret, signedHeaders } from '../../server/reach/hooks/standard-webhook.ts';
import { stepsTold } from '../../server/reach/hooks/steps-told.ts';
import { hookDocument } from '../../shared/schemas/hooks.ts';
import { bell, floorWith, recorded } from '../server/reach/hooks/kit.ts';

const file = (path: string): string => readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
const secret = freshSecret();
const now = (): number => Math.floor(Date.now() / 1000);

/** What a burn at chair 4 looks like outside. */
function burnTold(): string {
  const burning = bell({ cause: 'burns', kind: 'burns', level: 'DANGER' });
  const [step] = stepsTold([recorded('visit/visit-0001', { ...burning, type: 'BellRung' })], {
    before: floorWith({}),
    after: floorWith({ visit: [burning] }),
  });
  if (step === undefined) throw new Error('no step');
  return JSON.stringify(documentOf(step, floorWith({ visit: [burning] })));
}

describe('the example of a lamp', () => {
  let lamp: ChildProcess;
  let url = '';
  const lines: string[] = [];
  let said: Interface;
  beforeAll(async () => {
    const script = fileURLToPath(new URL('../../scripts/example-lamp.mjs', import.meta.url));
    lamp = spawn(process.execPath, [script, secret, '0'], { stdio: ['ignore', 'pipe', 'inherit'] });
    if (lamp.stdout === null) throw new Error('no output');
    said = createInterface({ input: lamp.stdout });
    await new Promise<void>((listens) =>
      said.on('line', (line) => {
        lines.push(line);
        const found = /http:\S+/.exec(line);
        if (found === null) return;
        url = found[0];
        listens();
      }),
    );
  });
  afterAll(() => lamp.kill());

  const post = (body: string, headers: Record<string, string>) => fetch(url, { method: 'POST', body, headers });

  it('[R9] lights up for a signed step once, and refuses every other', async () => {
    const body = burnTold();
    const signed = (id: string, at = now(), by = secret) => signedHeaders(by, { id, timestamp: at, body });
    for (const headers of [signed('msg_1'), signed('msg_1')]) expect((await post(body, headers)).status).toBe(204);
    const wrong = [
      [body, {}],
      [body, signed('msg_2', now() - 301)],
      [body, signed('msg_2', now(), freshSecret())],
      [body.replace('"chair":4', '"chair":5'), signed('msg_2')],
      [body, { ...signed('msg_2'), 'webhook-id': 'msg_3' }],
      [body, { ...signed('msg_2'), 'webhook-timestamp': 'now' }],
      [body, { ...signed('msg_2'), 'webhook-signature': 'v1,AAAA v2,' }],
    ] as const;
    for (const [told, headers] of wrong) expect((await post(told, { ...headers })).status).toBe(401);
    // Several signatures may be given; one that fits is enough.
    const several = { ...signed('msg_4'), 'webhook-signature': `v1,AAAA ${signed('msg_4')['webhook-signature']}` };
    expect((await post(body, several)).status).toBe(204);
    // It answers before it shows.
    while (lines.length < 3) await once(said, 'line');
    expect(lines.slice(1)).toEqual(Array.from({ length: 2 }, () => 'lamp DANGER: burns rung, chair F'));
  });

  it('[R9] is what the README shows, and so is the document', () => {
    const readme = file('README.md');
    const section = readme.slice(readme.indexOf('## Lights and buzzers'));
    const shown = /```js\n([\s\S]*?)```/.exec(section)?.[1] ?? 'nothing';
    expect(file('scripts/example-lamp.mjs')).toContain(shown);
    const document: unknown = JSON.parse(/```json\n([\s\S]*?)```/.exec(section)?.[1] ?? 'null');
    expect(hookDocument.parse(document)).toEqual(document);
  });
});

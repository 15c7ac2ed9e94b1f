import { describe, expect, it } from 'vitest';
import { setPush, setRoom } from '../../../core/salon/set-room.ts';
import { defaultRoom, roomLimits, soundedLevels, type Room } from '../../../core/salon/room.ts';
import type { HookTested, HookTold } from '../../../shared/hooks.ts';
import { problemOf } from '../../../shared/problem.ts';
import { hookFault } from '../../../shared/schemas/hooks.ts';
import type { PersonReach, ReachTold } from '../../../shared/wire.ts';
import { HookList } from '../../../web/src/salon/form/hook-list.svelte.ts';
import { hookRefusal, hookState, testSaid } from '../../../web/src/salon/form/hook-words.ts';
import { contactOf, needsOf, pushDraftOf, readPush } from '../../../web/src/salon/form/push-draft.ts';
import { reachLines, wallLines } from '../../../web/src/salon/form/reach-lines.ts';
import { refusedField } from '../../../web/src/salon/form/refusal-field.ts';
import { isChanged, readRoom, roomDraftOf, volumeField, volumeRange } from '../../../web/src/salon/form/room-draft.ts';
import { en } from '../../../web/src/words/en.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';

const { hooks: say, who, push } = en.salon.reach;
const clock = (at: number): string => `@${at}`;

describe('what the room hears', () => {
  const typed = (CAUTION: string, WARNING: string, DANGER: string) => ({
    ...roomDraftOf(defaultRoom),
    volume: { CAUTION, WARNING, DANGER },
  });
  const faultsOf = (draft: ReturnType<typeof typed>): string[] =>
    readRoom(draft).faults.map((one) => `${one.field} ${one.fault}`);

  it('[W4] is read as it is kept', () => {
    const rooms: Room[] = [
      defaultRoom,
      { spoken: true, names: false, volume: { CAUTION: 0.2, WARNING: 0.3, DANGER: 0.5 } },
      { spoken: true, names: true, volume: { CAUTION: 1, WARNING: 1, DANGER: 1 } },
    ];
    for (const room of rooms) expect(readRoom(roomDraftOf(room))).toEqual({ room, faults: [] });
  });

  it.each([
    ['nothing', typed('', '85', '100'), ['volume.CAUTION missing']],
    ['half a percent', typed('70.5', '85', '100'), ['volume.CAUTION not-whole']],
    [
      'silence',
      typed('0', '0', '0'),
      ['volume.CAUTION out-of-range', 'volume.WARNING out-of-range', 'volume.DANGER out-of-range'],
    ],
    ['more than the device can', typed('70', '85', '101'), ['volume.DANGER out-of-range']],
    ['a WARNING softer than a CAUTION', typed('70', '60', '100'), ['volume.WARNING softer']],
    [
      'a DANGER softer than a CAUTION, whatever stands between',
      typed('70', 'x', '60'),
      ['volume.WARNING not-whole', 'volume.DANGER softer'],
    ],
  ])('[R5] %s is named at its field', (_what, draft, faults) => {
    expect(faultsOf(draft)).toEqual(faults);
    expect(readRoom(draft).room).toBeNull();
  });

  it('[R5] is judged as core judges it, over the whole grid of tens', () => {
    const { floor } = new FloorLife();
    const tens = Array.from({ length: 11 }, (_, n) => n * 10);
    let taken = 0;
    for (const a of tens)
      for (const b of tens)
        for (const c of tens) {
          const room = { ...defaultRoom, volume: { CAUTION: a / 100, WARNING: b / 100, DANGER: c / 100 } };
          const decided = setRoom({ floor } as never, { type: 'SetRoom', room }).answer.outcome === 'done';
          expect(readRoom(typed(String(a), String(b), String(c))).room !== null, `${a} ${b} ${c}`).toBe(decided);
          taken += decided ? 1 : 0;
        }
    expect(taken).toBeGreaterThan(50);
  });

  it('[R5] says the limits in percent, and what the server refuses stands at the same field', () => {
    for (const level of soundedLevels) {
      expect(volumeRange(level)).toEqual(roomLimits[level].map((part) => String(part * 100)));
      expect(refusedField({ field: `room.${volumeField(level)}` })).toBe(volumeField(level));
    }
  });

  it('[W4] knows that a level would sound otherwise once it is saved', () => {
    expect(isChanged(typed('70', '85', '100'), 'WARNING', defaultRoom)).toBe(false);
    expect(isChanged(typed('70', '86', '100'), 'WARNING', defaultRoom)).toBe(true);
  });

  it('[W4] is stored by the command and shown from the floor', async () => {
    const stage = new StagedSession(FloorLife.salon());
    const room: Room = { spoken: true, names: false, volume: { CAUTION: 0.4, WARNING: 0.5, DANGER: 0.6 } };
    await stage.about(null, { type: 'SetRoom', room });
    expect(stage.mirror.salon.room).toEqual(room);
  });
});

describe('push', () => {
  it.each([
    ['owner@corner-salon.example', 'mailto:owner@corner-salon.example'],
    [' mailto:owner@corner-salon.example ', 'mailto:owner@corner-salon.example'],
    ['https://corner-salon.example/about', 'https://corner-salon.example/about'],
    ['owner', null],
    ['owner@localhost', null],
    ['http://corner-salon.example', null],
    ['ftp://a@b.example', null],
    ['a@b@c.example', null],
    ['a b@c.example', null],
  ])('[R7] %j is a contact: %s (RFC 8292 §2.1)', (typed, contact) => {
    expect(contactOf(typed)).toBe(contact);
    const { floor } = new FloorLife();
    const { answer } = setPush({ floor } as never, { type: 'SetPush', on: true, contact: contact ?? typed.trim() });
    expect(answer.outcome).toBe(contact === null ? 'refused' : 'done');
  });

  it('[R7] is off without a contact, and on only with one', () => {
    expect(readPush({ choice: 'off', contact: '' })).toEqual({ asked: { on: false, contact: '' }, faults: [] });
    expect(readPush({ choice: 'on', contact: '' }).faults).toMatchObject([{ field: 'contact', fault: 'missing' }]);
    expect(readPush({ choice: 'off', contact: 'me' }).faults).toMatchObject([
      { field: 'contact', fault: 'no-contact' },
    ]);
    expect(readPush(pushDraftOf(true, 'mailto:me@salon.example')).asked).toEqual({
      on: true,
      contact: 'mailto:me@salon.example',
    });
  });

  it('[R7] says what is missing: over plain http, on the server’s own machine, with a certificate', () => {
    const seen = { contact: null, sent: null };
    expect(needsOf({ ...seen, protocol: 'http:', secure: false })).toEqual({
      internet: 'unknown',
      secure: 'missing',
      certificate: 'missing',
      contact: 'missing',
    });
    expect(needsOf({ ...seen, protocol: 'http:', secure: true }).certificate).toBe('missing');
    expect(needsOf({ protocol: 'https:', secure: true, contact: 'mailto:me@salon.example', sent: true })).toEqual({
      internet: 'met',
      secure: 'met',
      certificate: 'met',
      contact: 'met',
    });
    expect(push.certificateCommand).toContain('--tls-cert FILE --tls-key FILE');
  });
});

describe('who can be reached', () => {
  const one = (person: string, how: PersonReach['how'], mutedUntil: number | null = null) => ({
    person,
    how,
    sinceAt: 5,
    mutedUntil,
  });
  const told = (people: readonly PersonReach[], sounding = 0, silent = 0): ReachTold => ({
    people,
    walls: { sounding, silent },
  });
  const seen = { nameOf: (person: string) => person, clock, now: 100 };

  it('[R7] those who cannot be reached stand first, each with how and since when', () => {
    const lines = reachLines(
      told([one('Zoe', 'rings'), one('Ama', 'rings'), one('Joss', 'no'), one('Lin', 'push'), one('Kit', 'shown')]),
      who,
      seen,
    );
    expect(lines.map(({ name, reached }) => [name, reached])).toEqual([
      ['Joss', false],
      ['Lin', true],
      ['Kit', true],
      ['Ama', true],
      ['Zoe', true],
    ]);
    expect(lines[0]?.said).toBe('cannot be reached, since @5');
  });

  it('[R4] a mute is told while it lasts', () => {
    const [during, after] = [130, 100].map(
      (until) => reachLines(told([one('Ama', 'rings', until)]), who, seen)[0]?.said,
    );
    expect(during).toContain('muted until @130');
    expect(after).not.toContain('muted');
  });

  it('[R7] walls that sound and walls that cannot are told apart, and none is said', () => {
    expect(wallLines(told([], 2, 1), who)).toEqual(['2 walls sound.', who.silent(1)]);
    expect(wallLines(told([], 1, 0), who)).toEqual(['One wall sounds.']);
    expect(wallLines(told([]), who)).toEqual([who.noWall]);
  });
});

describe('lights and buzzers', () => {
  const hook = (over: Partial<HookTold> = {}): HookTold => ({
    id: 'hook-0001',
    name: 'Lamp',
    url: 'http://lamp/',
    on: true,
    waiting: 0,
    deliveredAt: null,
    failing: null,
    ...over,
  });
  const failing = { sinceAt: 7, why: 'answered', status: 503, givenUp: 2 } as const;

  it.each<[string, HookTold, string[]]>([
    ['nothing sent yet', hook(), [say.unused]],
    ['delivered', hook({ deliveredAt: 9 }), ['The last step arrived at @9.']],
    ['steps on their way', hook({ deliveredAt: 9, waiting: 1 }), ['The last step arrived at @9.', 'One step waits.']],
    ['put off, whatever came before', hook({ on: false, failing }), [say.isOff]],
    [
      'failing',
      hook({ deliveredAt: 3, failing, waiting: 4 }),
      ['Not reached since @7: it answered 503.', '2 steps were given up.', '4 steps wait.'],
    ],
  ])('[R9] %s is told in sentences', (_what, one, sentences) => expect(hookState(one, say, clock)).toEqual(sentences));

  it('[R9] every reason for which a step does not arrive has its words', () => {
    for (const why of hookFault.options) expect(say.why[why]('500')).toMatch(/^[a-z].*[^.]$/);
  });

  it.each<[HookTested, string]>([
    [{ outcome: 'delivered', status: 204, afterMs: 12 }, 'It arrived: answered 204 after 12 ms. Did it light up?'],
    [
      { outcome: 'failed', why: 'refused', status: null, afterMs: 3 },
      'It did not arrive: nobody listens at that address.',
    ],
    [{ outcome: 'waiting', behind: 2 }, 'Its turn has not come: 2 steps before it do not get through.'],
    [{ outcome: 'waiting', behind: 0 }, say.tested.slow],
  ])('[R9] %o after a test is told as: %s', (tested, sentence) => expect(testSaid(tested, say)).toBe(sentence));

  it('[S8] a refusal stands where it can be mended', () => {
    const invalid = problemOf('invalid-body', { field: 'url', expected: 'x' });
    expect(hookRefusal(invalid, say)).toEqual({ field: 'url', text: say.refused.url });
    expect(hookRefusal(problemOf('out-of-range', { field: 'hooks' }), say)).toEqual({
      field: null,
      text: say.refused.full,
    });
    expect(hookRefusal(problemOf('not-found'), say).text).toBe(say.refused.gone);
    expect(hookRefusal(problemOf('again'), say).text).toBe(say.refused.again);
    expect(hookRefusal(null, say).text).toBe(say.refused.lost);
  });

  /** A server of one answer per question, in turn. */
  function listOver(...answers: (Response | 'gone')[]) {
    const asked: string[] = [];
    const list = new HookList((url, init) => {
      asked.push(`${init?.method} ${String(url)} ${String(init?.body ?? '')}`.trim());
      const next = answers.shift() ?? 'gone';
      return next === 'gone' ? Promise.reject(new Error('no network')) : Promise.resolve(next);
    });
    return { list, asked };
  }
  const json = (body: unknown, status = 200): Response => new Response(JSON.stringify(body), { status });

  it('[R9] after each act what stands is asked for', async () => {
    const made = { hook: hook(), secret: 'whsec_x' };
    const { list, asked } = listOver(json(made, 201), json([hook()]), new Response(null, { status: 204 }), json([]));
    expect(await list.add({ name: 'Lamp', url: 'http://lamp/' })).toEqual({ answer: made });
    expect(list.hooks).toEqual([hook()]);
    expect(await list.remove('hook-0001')).toEqual({ answer: null });
    expect(list.hooks).toEqual([]);
    expect(asked).toEqual([
      'POST /api/v1/hooks {"name":"Lamp","url":"http://lamp/"}',
      'GET /api/v1/hooks',
      'DELETE /api/v1/hooks/hook-0001',
      'GET /api/v1/hooks',
    ]);
  });

  it('[R9] without a server what was heard last stays, and it is said; a refusal is handed on', async () => {
    const refusal = problemOf('again');
    const { list } = listOver(json([hook()]), json(refusal, 503), 'gone', 'gone', 'gone');
    await list.look();
    expect(await list.turn('hook-0001', false)).toEqual({ problem: refusal });
    expect([list.lost, list.hooks]).toEqual([true, [hook()]]);
    expect(await list.test('hook-0001')).toEqual({ problem: null });
  });
});

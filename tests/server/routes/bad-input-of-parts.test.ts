import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HOUR, MINUTE } from '../../../core/time.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { NOON } from '../engine/kit.ts';
import { listening, Screen } from '../live/kit.ts';
import type { TestServer } from './kit.ts';
import { refused, type Case } from './refusals.ts';

const visit = 'visit-0001';
const foils = 'visit-0002';
const bare = 'visit-0003';
let server: TestServer;
let address: string;

beforeAll(async () => {
  ({ server, address } = await listening());
  await server.send({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
  const rules = relaxer({ manner: 'by-part', heat: 'allowed' });
  await server.send(
    { type: 'WriteDirections', directions: null, name: 'Foils', source: 'invented', rules },
    { id: 'directions-2' },
  );
  await server.send(
    { type: 'WriteService', service: null, name: 'Foils', passes: ['directions-2'], limits: [] },
    { id: 'service-2' },
  );
  for (const [chair, id, service] of [
    [1, visit, 'service-1'],
    [2, foils, 'service-2'],
  ] as const) {
    await server.send({ type: 'SeatVisit', chair, service, stylist: null, label: null }, { id });
    await server.send({ type: 'BeginApplication', chair, visit: id, service: null });
  }
  // Water said to be on where nobody sat: a head without a product, so without a plan of parts.
  await server.send({ type: 'BeginRinse', chair: 3, visit: null, basin: null }, { id: bare });
  server.hand.pass(6 * MINUTE);
  await server.send({ type: 'MarkPartDone', visit, part: 1 });
});
afterAll(() => server.app.http.close());

let ids = 0;
const post = (body: object) => server.post({ id: `command-p${String(++ids).padStart(4, '0')}`, ...body });

describe('parts of a head', () => {
  const part = { type: 'MarkPartDone', visit };
  const strand = { type: 'TestStrand', visit, place: 'first', result: 'not-yet', part: null, note: null };
  const cases: readonly Case[] = [
    ['E5', 'a part twice', { ...part, part: 1 }, 'already-done', null],
    ['E5', 'an unknown part', { ...part, part: 4 }, 'unknown-part', 'part'],
    ['E5', 'a part below the first', { ...part, part: -1 }, 'invalid-body', 'part'],
    ['E5', 'a part beyond any plan', { ...part, part: 12 }, 'invalid-body', 'part'],
    ['E5', 'half a part', { ...part, part: 0.5 }, 'invalid-body', 'part'],
    ['E5', 'a part as a word', { ...part, part: 'nape' }, 'invalid-body', 'part'],
    ['E5', 'a head without a plan', { ...part, visit: bare, part: 0 }, 'wrong-stage', null],
    ['E6', 'a strand of an unknown part', { ...strand, part: 4 }, 'unknown-part', 'part'],
    ['E6', 'a strand of foils without its part', { ...strand, visit: foils }, 'unknown-part', 'part'],
    ['E6', 'a strand of a head without a plan', { ...strand, visit: bare }, 'wrong-stage', null],
    ['E6', 'a strand nowhere', { ...strand, place: 'fringe' }, 'invalid-body', 'place'],
    ['E6', 'a result that is none', { ...strand, result: 'nearly' }, 'invalid-body', 'result'],
    ['E6', 'a note without end', { ...strand, note: 'x'.repeat(5_000) }, 'invalid-body', 'note'],
    [
      'P0',
      'a helper nobody knows',
      { type: 'JoinAsHelper', visit, person: 'person-nobody' },
      'unknown-person',
      'person',
    ],
    ['P0', 'nobody to go', { type: 'LeaveAsHelper', visit, person: null }, 'wrong-stage', null],
    [
      'P0',
      'an unknown helper goes',
      { type: 'LeaveAsHelper', visit, person: 'person-nobody' },
      'unknown-person',
      'person',
    ],
    ['E10', 'heat where it is never', { type: 'SetHeat', visit, on: true }, 'against-directions', 'on'],
    ['E10', 'heat by a word', { type: 'SetHeat', visit, on: 'yes' }, 'invalid-body', 'on'],
  ];
  it.each(cases)('[%s] %s is refused', async (_rule, _what, body, code, field) => {
    await refused(server, () => post(body), code, field);
  });
});

describe('times of a head', () => {
  const correct = (to: unknown, of: unknown = 2) => ({ type: 'CorrectTime', visit, of, to, reason: 'said so' });
  const at = (minutes: number) => NOON + minutes * MINUTE;
  const cases: readonly Case[] = [
    ['X1', 'a first touch after the first part was done', correct(at(6) + 30_000), 'times-cross', 'to'],
    ['X1', 'a part before first touch', correct(at(-30), 3), 'times-cross', 'to'],
    ['X1', 'a first touch to come', correct(at(30)), 'time-in-future', 'to'],
    ['X1', 'a time below nothing', correct(-1), 'invalid-body', 'to'],
    ['X1', 'a time beyond whole numbers', correct(1e300), 'invalid-body', 'to'],
    ['X1', 'a time as a word', correct('14:05'), 'invalid-body', 'to'],
    ['X1', 'a moment that never was', correct(at(1), 99), 'unknown-moment', null],
    [
      'X3',
      'a part to come',
      { type: 'MarkPartDone', visit, part: 0, happenedAt: at(30) },
      'time-in-future',
      'happenedAt',
    ],
    [
      'X3',
      'a part of the day before last',
      { type: 'MarkPartDone', visit, part: 0, happenedAt: at(-2880) },
      'time-too-old',
      'happenedAt',
    ],
  ];
  it.each(cases)('[%s] %s is refused', async (_rule, _what, body, code, field) => {
    server.hand.pass(MINUTE);
    await refused(server, () => post(body), code, field);
  });
});

describe('limits for one head', () => {
  const limits = (changes: object) => ({
    type: 'SetLimits',
    visit,
    minAfterMs: null,
    maxAfterMs: null,
    ceilingMs: null,
    reason: null,
    ...changes,
  });
  const cases: readonly Case[] = [
    ['E9', 'nothing told', limits({}), 'out-of-range', 'minAfterMs'],
    [
      'E9',
      'a ceiling shorter than the minimum',
      limits({ ceilingMs: 9 * MINUTE }),
      'directions-contradict',
      'ceilingMs:ceiling-below-min',
    ],
    [
      'E9',
      'a most below the least',
      limits({ maxAfterMs: 9 * MINUTE }),
      'directions-contradict',
      'maxAfterMs:max-below-min',
    ],
    ['E9', 'a ceiling of nothing', limits({ ceilingMs: 0 }), 'out-of-range', 'ceilingMs:out-of-range'],
    ['E9', 'an absurd least', limits({ minAfterMs: 100 * HOUR }), 'out-of-range', 'minAfterMs:out-of-range'],
    ['E9', 'minutes below nothing', limits({ minAfterMs: -MINUTE }), 'invalid-body', 'minAfterMs'],
    ['E9', 'half a millisecond', limits({ ceilingMs: 0.5 }), 'invalid-body', 'ceilingMs'],
    ['E9', 'a number beyond whole ones', limits({ ceilingMs: 1e300 }), 'invalid-body', 'ceilingMs'],
    ['E9', 'minutes as a word', limits({ ceilingMs: '20' }), 'invalid-body', 'ceilingMs'],
    ['E9', 'raised by nobody known', limits({ ceilingMs: 40 * MINUTE, reason: 'thick hair' }), 'not-allowed', null],
    [
      'E9',
      'raised by who may not',
      { ...limits({ ceilingMs: 40 * MINUTE, reason: 'thick' }), by: 'person-ama' },
      'not-allowed',
      null,
    ],
    [
      'E9',
      'raised without a reason',
      { ...limits({ ceilingMs: 40 * MINUTE }), by: 'person-sena' },
      'reason-needed',
      'reason',
    ],
    ['E9', 'a head without a plan', { ...limits({ ceilingMs: 20 * MINUTE }), visit: bare }, 'wrong-stage', null],
  ];
  it.each(cases)('[%s] %s is refused', async (_rule, _what, body, code, field) => {
    await refused(server, () => post(body), code, field);
  });

  it('[E9] NaN and Infinity are no JSON', async () => {
    for (const word of ['NaN', 'Infinity', '-Infinity']) {
      const body = `{"id":"command-p9999","type":"SetLimits","visit":"${visit}","ceilingMs":${word}}`;
      await refused(server, () => server.raw('POST', '/api/v1/commands', body), 'invalid-json', null);
    }
  });
});

describe('the socket', () => {
  it.each([
    ['a part done', ['MarkPartDone', { visit, part: 0 }]],
    ['a whole command', ['command', { id: 'command-s001', type: 'MarkPartDone', visit, part: 0 }]],
    ['limits', ['SetLimits', { visit, ceilingMs: 1 }, () => undefined]],
  ] as const)('[S8] takes no acts: %s is refused to the sender, nothing stored', async (_what, packet) => {
    const screen = await new Screen(address).connected();
    const { revision } = server.engine;
    const told = screen.next('problem');
    screen.say(...packet);
    const document = await told;
    expect(problem.parse(document)).toMatchObject({ code: 'unknown-event' });
    expect([server.engine.revision, screen.socket.connected]).toEqual([revision, true]);
    screen.socket.disconnect();
  });
});

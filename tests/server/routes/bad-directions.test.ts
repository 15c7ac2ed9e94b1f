import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Rules } from '../../../core/directions/rules.ts';
import { MINUTE } from '../../../core/time.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';
import { TestServer } from './kit.ts';
import { refused, type Case } from './refusals.ts';

let server: TestServer;
beforeAll(async () => {
  server = await (await TestServer.start()).setUp();
});
afterAll(() => server.app.http.close());

let ids = 0;
const post = (body: object) => server.post({ id: `command-p${String(++ids).padStart(4, '0')}`, ...body });

describe('directions', () => {
  const write = (rules: object) => ({
    type: 'WriteDirections',
    directions: null,
    name: 'Wrong',
    source: 'invented',
    rules,
  });
  const parts = (...ceilings: (number | null)[]) =>
    ceilings.map((ceilingMs) => ({ place: 'other', share: 1 / ceilings.length, ceilingMs }));
  const says = (field: string, fault: string) => ['directions-contradict', `rules.${field}:${fault}`] as const;
  const span = (field: keyof Rules, ms: number, fault: string): Case => [
    'E3',
    `${field} of ${String(ms / MINUTE)} min`,
    write(relaxer({ [field]: ms })),
    ...says(field, fault),
  ];
  const cases: readonly Case[] = [
    [
      'E3',
      'a hydroxide without a ceiling',
      write(relaxer({ ceilingMs: null })),
      ...says('ceilingMs', 'ceiling-missing'),
    ],
    ['E3', 'a perm without a ceiling', write(perm({ ceilingMs: null })), ...says('ceilingMs', 'ceiling-missing')],
    [
      'E3',
      'a ceiling shorter than the minimum',
      write(relaxer({ ceilingMs: 9 * MINUTE })),
      ...says('ceilingMs', 'ceiling-below-min'),
    ],
    [
      'E3',
      'a ceiling shorter than the whole',
      write(relaxer({ minTotalMs: 31 * MINUTE })),
      ...says('ceilingMs', 'ceiling-below-min'),
    ],
    [
      'E2',
      'maxAfter below minAfter',
      write(colour({ maxAfterMs: 19 * MINUTE })),
      ...says('maxAfterMs', 'max-below-min'),
    ],
    span('nominalMs', 0, 'out-of-range'),
    span('maxAfterMs', 0, 'out-of-range'),
    span('ceilingMs', 0, 'out-of-range'),
    span('minTotalMs', 0, 'out-of-range'),
    span('testEveryMs', 0, 'out-of-range'),
    span('nominalMs', 200 * MINUTE, 'out-of-range'),
    span('minAfterMs', 200 * MINUTE, 'out-of-range'),
    span('maxAfterMs', 200 * MINUTE, 'out-of-range'),
    span('ceilingMs', 200 * MINUTE, 'out-of-range'),
    span('firstTestMs', 200 * MINUTE, 'out-of-range'),
    span('graceMs', 200 * MINUTE, 'out-of-range'),
    span('rinseMs', 1e12, 'out-of-range'),
    ['E3', 'minutes below nothing', write({ ...relaxer(), minAfterMs: -1 }), 'invalid-body', 'rules.minAfterMs'],
    ['E3', 'minutes as a word', write({ ...relaxer(), minAfterMs: '10' }), 'invalid-body', 'rules.minAfterMs'],
    ['E3', 'minutes left out', write({ ...relaxer(), minAfterMs: undefined }), 'invalid-body', 'rules.minAfterMs'],
    ['E3', 'a number beyond whole ones', write({ ...relaxer(), ceilingMs: 1e300 }), 'invalid-body', 'rules.ceilingMs'],
    ['E4', 'a head without a plan', write(relaxer({ parts: [] })), ...says('parts', 'parts-count')],
    [
      'E4',
      'thirteen parts',
      write({ ...relaxer(), parts: parts(...Array.from({ length: 13 }, () => null)) }),
      'invalid-body',
      'rules.parts',
    ],
    [
      'E4',
      'shares that are no whole',
      write({ ...relaxer(), parts: parts(null, null).slice(1) }),
      ...says('parts', 'shares-sum'),
    ],
    [
      'E4',
      'a share below nothing',
      write({
        ...relaxer(),
        parts: [
          { place: 'other', share: -1, ceilingMs: null },
          { place: 'other', share: 2, ceilingMs: null },
        ],
      }),
      ...says('parts', 'shares-sum'),
    ],
    [
      'E4',
      'a share that is no number',
      write({ ...relaxer(), parts: [{ place: 'other', share: null, ceilingMs: null }] }),
      'invalid-body',
      'rules.parts.0.share',
    ],
    [
      'E4',
      'a place that is none',
      write({ ...relaxer(), parts: [{ place: 'beard', share: 1, ceilingMs: null }] }),
      'invalid-body',
      'rules.parts.0.place',
    ],
    [
      'E3',
      'a part’s ceiling shorter than the minimum',
      write({ ...relaxer(), parts: parts(null, 9 * MINUTE) }),
      ...says('parts.1.ceilingMs', 'ceiling-below-min'),
    ],
    [
      'E3',
      'a part’s ceiling above the head’s',
      write({ ...relaxer(), parts: parts(31 * MINUTE) }),
      ...says('parts.0.ceilingMs', 'part-ceiling-above-head'),
    ],
    [
      'E10',
      'a ceiling under heat shorter than its minimum',
      write(
        relaxer({
          heat: 'allowed',
          underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 9 * MINUTE, ceilingMs: 5 * MINUTE },
        }),
      ),
      ...says('underHeat.ceilingMs', 'ceiling-below-min'),
    ],
    [
      'E10',
      'under heat no ceiling',
      write(
        relaxer({ heat: 'allowed', underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 9 * MINUTE, ceilingMs: null } }),
      ),
      ...says('underHeat.ceilingMs', 'ceiling-missing'),
    ],
    [
      'E10',
      'under heat a most below the least',
      write(
        relaxer({
          heat: 'allowed',
          underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 5 * MINUTE, ceilingMs: 20 * MINUTE },
        }),
      ),
      ...says('underHeat.maxAfterMs', 'max-below-min'),
    ],
    [
      'S1',
      'a dwell of a thousand hours',
      write(relaxer({ finishing: [{ kind: 'condition', dwellMs: 60_000 * MINUTE }] })),
      ...says('finishing.0.dwellMs', 'out-of-range'),
    ],
    [
      'S1',
      'a neutralizer that may stay no time at all',
      write(
        perm({ finishing: [{ kind: 'neutralizer', minAfterMs: 0, maxAfterMs: 0, rinseMs: 3 * MINUTE, rods: true }] }),
      ),
      ...says('finishing.0.maxAfterMs', 'out-of-range'),
    ],
    ...(
      [
        ['a stage limit of nothing', [{ stage: 'apply', limitMs: 0 }], 'limits.apply'],
        ['a stage limit of years', [{ stage: 'dry', limitMs: 1e12 }], 'limits.dry'],
        ['a limit for what has ended', [{ stage: 'finished', limitMs: MINUTE }], 'limits.finished'],
        [
          'a stage with two limits',
          [
            { stage: 'prep', limitMs: MINUTE },
            { stage: 'prep', limitMs: 2 * MINUTE },
          ],
          'limits.prep',
        ],
      ] as const
    ).map(([what, limits, field]): Case => [
      'R2',
      what,
      { type: 'WriteService', service: null, name: 'Wrong', passes: ['directions-1'], limits },
      'out-of-range',
      field,
    ]),
    [
      'E4',
      'a part twice',
      write({ ...relaxer(), parts: [0.5, 0.5].map((share) => ({ place: 'nape-left', share, ceilingMs: null })) }),
      ...says('parts.1.place', 'place-twice'),
    ],
    [
      'E10',
      'a most that comes later under heat',
      write(
        relaxer({
          heat: 'allowed',
          underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 16 * MINUTE, ceilingMs: 20 * MINUTE },
        }),
      ),
      ...says('underHeat.maxAfterMs', 'heat-later'),
    ],
  ];
  it.each(cases)('[%s] %s is refused', async (_rule, _what, body, code, field) => {
    const known = Object.keys(server.engine.floor.directions);
    await refused(server, () => post(body), code, field);
    expect(Object.keys(server.engine.floor.directions)).toEqual(known);
  });

  it('[E3] what is refused here can be written once it is put right', async () => {
    expect((await post(write(relaxer()))).body.outcome).toBe('done');
  });
});

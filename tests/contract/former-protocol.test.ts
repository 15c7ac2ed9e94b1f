import { readFileSync } from 'node:fs';
import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Bell } from '../../core/bells/bell.ts';
import type { formerEntity } from '../../server/live/former-protocol/translation.ts';
import { beatFormerly, pushedFormerly, toldFormerly } from '../../server/live/former-protocol/translation.ts';
import { FORMER_PROTOCOL, PROTOCOL } from '../../shared/protocol.ts';
import { commandRequest } from '../../shared/schemas/commands.ts';
import { clockStamps, floorEntity, heartbeat, joinRequest, testBell } from '../../shared/schemas/wire.ts';
import type { FloorEntity, Heartbeat } from '../../shared/wire.ts';
import { fitting, type JsonSchema } from '../support/from-json-schema.ts';

/** The contract as it was published under protocol 2. It is never edited: screens built from it are still out there. */
const frozen = JSON.parse(readFileSync(new URL('protocol-2.json', import.meta.url), 'utf8')) as {
  readonly told: Readonly<Record<'entity' | 'heartbeat' | 'clock', JsonSchema>>;
  readonly said: Readonly<Record<'command' | 'join' | 'testBell', JsonSchema>>;
};
const asFrozen = (schema: JsonSchema): z.ZodType => z.fromJSONSchema(schema as never);
const knew = asFrozen(frozen.told.entity);
const now = (schema: z.ZodType): JsonSchema => z.toJSONSchema(schema, { reused: 'ref' }) as JsonSchema;

const visit = (bells: readonly object[], beside: object = {}): FloorEntity => {
  const [example] = fc.sample(
    fitting(now(floorEntity)).filter((one) => (one as FloorEntity).kind === 'visit'),
    { numRuns: 1, seed: 7 },
  ) as [Extract<FloorEntity, { kind: 'visit' }>];
  return { ...example, facts: { ...example.facts, ...beside, bells: bells as readonly Bell[], episodes: [] } };
};
const bell = (cause: string, level = 'CAUTION', kind = cause) => {
  return { cause, kind, level, episode: 1, dueAt: 1, rungAt: 1, levelAt: 1, taken: null };
};
const bellsTold = (bells: readonly object[]) => {
  const told = toldFormerly(visit(bells));
  return told?.kind === 'visit' ? told.facts.bells : [];
};

/** Does not compile when a fact that protocol 2 was promised has changed its shape or is gone. */
type Mutable<T> = T extends readonly (infer E)[]
  ? Mutable<E>[]
  : T extends object
    ? { -readonly [K in keyof T]: Mutable<T[K]> }
    : T;
const promised = (entity: Mutable<FloorEntity>): z.input<typeof formerEntity> => entity;

describe('screens of the former protocol', () => {
  it('[R10] there is exactly one former protocol, and it is the one before this', () => {
    expect(PROTOCOL - FORMER_PROTOCOL).toBe(1);
    expect(promised).toBeTypeOf('function');
  });

  it('[R10] are told whatever the floor may hold in their own words, nothing else and nothing less', () => {
    fc.assert(
      fc.property(fitting(now(floorEntity)), (entity) => {
        const told = toldFormerly(entity as FloorEntity);
        expect(knew.parse(told)).toEqual(told);
      }),
      { numRuns: 2_000 },
    );
  });

  it('[R10] are told what they knew unchanged', () => {
    fc.assert(
      fc.property(fitting(frozen.told.entity), (entity) => {
        const known = entity as { facts: { bells?: readonly { cause: string }[] } };
        const causes = (known.facts?.bells ?? []).map(({ cause }) => cause);
        // One bell stands per cause; the rules never make two.
        fc.pre(new Set(causes).size === causes.length);
        expect(withSortedRoles(toldFormerly(entity as FloorEntity))).toEqual(withSortedRoles(entity));
      }),
      { numRuns: 1_000 },
    );
  });

  it('[T5] get heartbeats and stamps as they know them', () => {
    fc.assert(
      fc.property(fitting(now(heartbeat)), (beat) => {
        const told = beatFormerly(beat as Heartbeat);
        expect(asFrozen(frozen.told.heartbeat).parse(told)).toEqual(told);
      }),
    );
    expect(now(clockStamps)).toMatchObject(frozen.told.clock);
  });

  it('[R2] hear of a bell they do not know as of a stage that lasts too long, once, at the loudest level', () => {
    expect(bellsTold([bell('newly-invented', 'WARNING')])).toEqual([bell('long-stage', 'WARNING')]);
    expect(bellsTold([bell('long-stage'), bell('newly-invented', 'DANGER')])).toEqual([bell('long-stage', 'DANGER')]);
    expect(bellsTold([bell('off', 'WARNING', 'newly-named')])).toEqual([bell('off', 'WARNING', 'long-stage')]);
  });

  it('[R2] a floor bell they do not know is left out', () => {
    const bells = [bell('newly-invented'), bell('not-saved')] as unknown as readonly Bell[];
    const episodes = [{ cause: 'newly-invented' as never, episode: 3 }];
    expect(toldFormerly({ kind: 'floor-bells', facts: { bells, episodes } })).toEqual({
      kind: 'floor-bells',
      facts: { bells: [bell('not-saved')], episodes: [] },
    });
  });

  it('[R10] never hear of a new kind of thing, but that one of theirs is gone', () => {
    const unknown = { kind: 'plan', facts: {} } as unknown as FloorEntity;
    const push = pushedFormerly({
      stream: 'floor',
      previous: 1,
      revision: 2,
      entities: { plan: unknown, 'visit/a': null, gap: { kind: 'gap', facts: null } },
    });
    expect(push).toEqual({
      stream: 'floor',
      previous: 1,
      revision: 2,
      entities: { 'visit/a': null, gap: { kind: 'gap', facts: null } },
    });
  });
});

describe('what screens of the former protocol say', () => {
  it('[S7] every command they could send is still understood', () => {
    fc.assert(
      fc.property(fitting(frozen.said.command), (command) => {
        expect(commandRequest.safeParse(command).error).toBeUndefined();
      }),
      { numRuns: 5_000 },
    );
  });

  it('[R10] their packets too', () => {
    fc.assert(fc.property(fitting(frozen.said.join), (join) => joinRequest.safeParse(join).success));
    fc.assert(fc.property(fitting(frozen.said.testBell), (bell) => testBell.safeParse(bell).success));
  });
});

/** The order of a person's roles says nothing. */
function withSortedRoles(entity: unknown): unknown {
  const { facts } = entity as { facts: { roles?: readonly string[] } | null };
  if (!facts?.roles) return entity;
  return { ...(entity as object), facts: { ...facts, roles: [...new Set(facts.roles)].sort() } };
}

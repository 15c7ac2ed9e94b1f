import { commandRequest } from '../../../shared/schemas/commands.ts';
import type { Chance } from '../chance.ts';

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** Valid bodies, one of each kind of field. Their ids are never used otherwise. */
const valid: readonly { readonly [key: string]: Json }[] = [
  { id: 'malformed-01', type: 'SeatVisit', chair: 3, service: 'service-1', stylist: 'person-ama', label: 'red hat' },
  { id: 'malformed-02', type: 'BeginApplication', chair: 3, visit: null, service: 'service-1' },
  { id: 'malformed-03', type: 'BeginRinse', chair: 1, visit: null, basin: 91 },
  { id: 'malformed-04', type: 'ReportBurns', chair: 1, visit: null, place: 'eye' },
  { id: 'malformed-05', type: 'TakeBell', visit: null, cause: 'off', by: 'person-joss' },
  { id: 'malformed-06', type: 'AddPlace', kind: 'chair', number: 60, label: '60' },
  { id: 'malformed-07', type: 'AddPerson', name: 'Nobody', roles: ['stylist', 'assistant'] },
  { id: 'malformed-08', type: 'MoveOn', visit: 'visit-0001', to: 'dry', seen: 4 },
  { id: 'malformed-09', type: 'CorrectTime', visit: 'visit-0001', of: 3, to: 1_773_144_000_000, reason: 'a slip' },
  {
    id: 'malformed-10',
    type: 'WriteService',
    service: null,
    name: 'Another',
    passes: ['directions-1'],
    limits: [{ stage: 'dry', ms: 600_000 }],
  },
];

const odd: readonly Json[] = [
  null,
  true,
  -1,
  1.5,
  1e300,
  '',
  ' ',
  'x',
  [],
  {},
  [null],
  'a\u0000b',
  'ö'.repeat(500),
  -0.5,
];

/** What can be done to one place of a value. */
const changes = {
  drop: (own: Record<string, Json>, key: string) => void delete own[key],
  odd: (own: Record<string, Json>, key: string, chance: Chance) => (own[key] = chance.pick(odd)),
  add: (own: Record<string, Json>, key: string) => (own[`${key}2`] = own[key] ?? null),
  wrap: (own: Record<string, Json>, key: string) => (own[key] = [own[key] ?? null]),
  text: (own: Record<string, Json>, key: string) => (own[key] = `${String(own[key])}\n`),
} as const;

/** A body one mutation away from a valid one, and certainly none itself. */
export function nearlyValid(chance: Chance): string {
  for (;;) {
    const body = structuredClone(chance.pick(valid)) as Record<string, Json>;
    const key = chance.pick(Object.keys(body));
    changes[chance.pick(Object.keys(changes) as (keyof typeof changes)[])](body, key, chance);
    if (!commandRequest.safeParse(body).success) return JSON.stringify(body);
  }
}

/** Anything at all, of any depth. */
export function anything(chance: Chance, depth = 3): Json {
  const kind = chance.whole(0, depth === 0 ? 2 : 4);
  if (kind === 3) return Array.from({ length: chance.whole(0, 4) }, () => anything(chance, depth - 1));
  if (kind === 4) {
    const keys = ['type', 'id', 'visit', 'chair', '__proto__', 'constructor', 'toString', 'x'];
    return Object.fromEntries(
      Array.from({ length: chance.whole(0, 5) }, () => [chance.pick(keys), anything(chance, depth - 1)]),
    );
  }
  return chance.pick(odd);
}

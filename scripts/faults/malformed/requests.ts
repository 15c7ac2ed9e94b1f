import type { Chance } from '../chance.ts';
import { anything, nearlyValid } from './mutate.ts';

export interface BadRequest {
  readonly nearly: boolean;
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | null;
}

const json = { 'content-type': 'application/json' };
const commands = { method: 'POST', path: '/api/v1/commands' } as const;

/** Far from valid, each kind in its turn. */
const far: readonly ((chance: Chance) => Omit<BadRequest, 'nearly'>)[] = [
  (chance) => ({ ...commands, headers: json, body: JSON.stringify(anything(chance)) }),
  (chance) => {
    const body = nearlyValid(chance);
    return { ...commands, headers: json, body: body.slice(0, chance.whole(1, body.length - 1)) };
  },
  (chance) => ({
    ...commands,
    headers: json,
    body: String.fromCharCode(...Array.from({ length: 40 }, () => chance.whole(1, 255))),
  }),
  (chance) => ({
    ...commands,
    headers: { 'content-type': chance.pick(['text/plain', 'application/xml', 'x']) },
    body: '{}',
  }),
  () => ({ ...commands, headers: json, body: JSON.stringify({ type: 'x'.repeat(33 * 1024) }) }),
  () => ({ ...commands, headers: json, body: '' }),
  (chance) => ({ ...commands, method: chance.pick(['PUT', 'DELETE', 'PATCH']), headers: json, body: '{}' }),
  (chance) => ({
    method: 'GET',
    path: `/api/v1/visits/${chance.pick(['x', '..%2f..%2fetc', '%00', 'nobody-knows-1', 'a'.repeat(90), "'%20OR%201"])}`,
    headers: {},
    body: null,
  }),
  (chance) => ({
    method: 'GET',
    path: `/api/v1/${chance.pick(['floors', 'hand-clock', '%', 'problems/none'])}`,
    headers: {},
    body: null,
  }),
  (chance) => ({ ...commands, headers: { ...json, origin: 'http://elsewhere.example' }, body: nearlyValid(chance) }),
];

/** Half of them one mutation away from a valid one. */
export function badRequest(n: number, chance: Chance): BadRequest {
  if (n % 2 === 0) return { nearly: true, ...commands, headers: json, body: nearlyValid(chance) };
  const make = far[(n >> 1) % far.length] as (typeof far)[number];
  return { nearly: false, ...make(chance) };
}

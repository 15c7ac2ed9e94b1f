import { z } from 'zod';
import { bellLevels, rankOf } from '../../../core/bells/level.ts';

/** Facts that the former protocol did not have fall off: `z.object` keeps what it lists. */
export const instant = z.number();
export const id = z.string();
export const count = z.number();

/** A word of one of the former protocol's closed lists; what is newer is told as the nearest that it had. */
export const word = <const L extends readonly string[]>(known: L, nearest: L[number]) =>
  z.string().transform((said): L[number] => (known.includes(said) ? said : nearest));

/** A stage it does not know is told as `dry`: the one in which a screen shows no number that could be wrong. */
export const stage = word(['prep', 'apply', 'process', 'rinse', 'neutralize', 'condition', 'dry', 'finished'], 'dry');

export const formerCauses = [
  'begun?',
  'pace',
  'test',
  'off',
  'neutralizer',
  'water-on?',
  'water',
  'dwell',
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
  'time-uncertain',
  'not-saved',
] as const;
type FormerCause = (typeof formerCauses)[number];

/** What a bell it does not know is told as: somebody is wanted, with no number and no deed that could be wrong. */
export const NEAREST_BELL = 'long-stage' satisfies FormerCause;

export const knewCause = (cause: string): cause is FormerCause => formerCauses.some((known) => known === cause);

const formerKinds = [
  'begun?',
  'pace',
  'soon',
  'test',
  'rinse',
  'over',
  'water-on?',
  'water',
  'dwell',
  'long-stage',
  'unattended',
  'burns',
  'abandoned',
  'time-uncertain',
  'not-saved',
] as const;

const bell = z.object({
  cause: z.string(),
  kind: word(formerKinds, NEAREST_BELL),
  level: word(bellLevels, 'WARNING'),
  episode: count,
  dueAt: instant,
  rungAt: instant,
  levelAt: instant,
  taken: z.object({ by: id, at: instant }).nullable(),
});

/** Bells of a head: of those told alike the loudest is told, for a screen holds one bell per cause. */
export const visitBells = z.array(bell).transform((bells) => {
  const told = new Map<FormerCause, z.output<typeof bell> & { readonly cause: FormerCause }>();
  for (const one of bells) {
    const cause = knewCause(one.cause) ? one.cause : NEAREST_BELL;
    const before = told.get(cause);
    if (before === undefined || rankOf(one.level) > rankOf(before.level)) told.set(cause, { ...one, cause });
  }
  return [...told.values()];
});

/** A bell of the whole floor has no head to be shown at: one it does not know is left to newer screens. */
export const floorBells = z
  .array(bell)
  .transform((bells) => bells.flatMap((one) => (knewCause(one.cause) ? [{ ...one, cause: one.cause }] : [])));

export const episodes = z
  .array(z.object({ cause: z.string(), episode: count }))
  .transform((all) => all.flatMap(({ cause, episode }) => (knewCause(cause) ? [{ cause, episode }] : [])));

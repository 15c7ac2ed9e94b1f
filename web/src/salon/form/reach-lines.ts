import type { PersonReach, ReachTold } from '../../../../shared/wire.ts';
import type { Words } from '../../words/words.ts';

type ReachWords = Words['salon']['reach']['who'];

/** Those who cannot be reached stand first: they are why somebody looks here. */
const order: readonly PersonReach['how'][] = ['no', 'push', 'shown', 'rings'];

export interface ReachLine {
  readonly person: string;
  readonly name: string;
  readonly reached: boolean;
  readonly said: string;
}

export interface ReachSaid {
  readonly nameOf: (person: string) => string;
  readonly clock: (at: number) => string;
  readonly now: number;
}

export function reachLines({ people }: ReachTold, say: ReachWords, { nameOf, clock, now }: ReachSaid): ReachLine[] {
  const lines = people.map(({ person, how, sinceAt, mutedUntil }) => ({
    person,
    how,
    name: nameOf(person),
    reached: how !== 'no',
    said: [
      `${say.how[how]}, ${say.since(clock(sinceAt))}`,
      ...(mutedUntil !== null && mutedUntil > now ? [say.muted(clock(mutedUntil))] : []),
    ].join('; '),
  }));
  return lines
    .sort((a, b) => order.indexOf(a.how) - order.indexOf(b.how) || a.name.localeCompare(b.name))
    .map(({ person, name, reached, said }) => ({ person, name, reached, said }));
}

export function wallLines({ walls: { sounding, silent } }: ReachTold, say: ReachWords): string[] {
  if (sounding + silent === 0) return [say.noWall];
  return [...(sounding === 0 ? [] : [say.sounding(sounding)]), ...(silent === 0 ? [] : [say.silent(silent)])];
}

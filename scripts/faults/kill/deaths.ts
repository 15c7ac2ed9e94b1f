import type { Death, Whereabouts } from '../../../tests/support/death.ts';
import type { Chance } from '../chance.ts';

/** Where a kill is aimed: at a moment inside the server, or from outside at whatever moment it hits. */
export const aims = ['before-store', 'in-transaction', 'in-commit', 'after-commit', 'outside'] as const;
export type Aim = (typeof aims)[number];

/** Twelve kills: the three moments of the promise nearly alike, the others between them. */
const round: readonly Aim[] = [
  'before-store',
  'in-commit',
  'after-commit',
  'in-transaction',
  'in-commit',
  'before-store',
  'after-commit',
  'outside',
  'in-commit',
  'after-commit',
  'before-store',
  'in-transaction',
];

export const aimOf = (kill: number): Aim => round[kill % round.length] as Aim;

/** COMMIT takes about so long here, with its fsync, µs: kills inside it are spread over a little more. */
const COMMIT_UP_TO = 1_000;

/** The moment for the server to die at; the first writes of a life are its own start's. */
export function deathFor(aim: Aim, chance: Chance): Death {
  const write = chance.whole(1, 25);
  switch (aim) {
    case 'outside':
      return { point: 'never' };
    case 'in-transaction':
      return { point: aim, write, statement: chance.whole(2, 14) };
    case 'in-commit':
      return { point: aim, write, afterUs: chance.whole(0, COMMIT_UP_TO) };
    case 'before-store':
    case 'after-commit':
      return { point: aim, write };
    default:
      return aim satisfies never;
  }
}

/** What the letter that a dying server left behind says. */
export const places = {
  i: 'between turns',
  w: 'before the commit, inside the transaction',
  c: 'in the commit',
  a: 'after the commit, before the answers',
} as const satisfies Record<Whereabouts, string>;

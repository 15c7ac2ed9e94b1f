import { en } from './en.ts';
import { spokenLanguage } from './spoken.ts';
import type { Language } from './spoken.ts';

/** The same tree with any wording in its leaves; functions keep their parameters. */
type AnyWording<T> = T extends string
  ? string
  : T extends (...args: infer A) => string
    ? (...args: A) => string
    : { readonly [K in keyof T]: AnyWording<T[K]> };

/** What every language must say, no more and no less. */
export type Words = AnyWording<typeof en>;

/** One line per language. A catalogue that lacks a message does not compile. */
const catalogues = { en } as const satisfies Record<Language, Words>;

export function words(): Words {
  return catalogues[spokenLanguage()];
}

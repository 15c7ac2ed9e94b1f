import { en } from './en.ts';

/** The same tree with any wording in its leaves; functions keep their parameters. */
type AnyWording<T> = T extends string
  ? string
  : T extends (...args: infer A) => string
    ? (...args: A) => string
    : { readonly [K in keyof T]: AnyWording<T[K]> };

/** What every language must say, no more and no less. */
export type Words = AnyWording<typeof en>;

/** One line per language. A catalogue that lacks a message does not compile. */
const catalogues = { en } as const satisfies Record<string, Words>;

export type Language = keyof typeof catalogues;
export const languages = Object.keys(catalogues) as readonly Language[];

/** The wanted language if we speak it, also by its first subtag (`en-US` → `en`); else English. */
export function languageFor(wanted: string): Language {
  const tag = wanted.toLowerCase();
  return languages.find((one) => one === tag || tag.startsWith(`${one}-`)) ?? 'en';
}

let spoken: Language = 'en';

/** Chosen once, before the screen is built: the salon's language. */
export function speak(language: Language): void {
  spoken = language;
}

export function words(): Words {
  return catalogues[spoken];
}

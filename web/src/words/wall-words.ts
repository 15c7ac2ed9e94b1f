import { everywhere } from './en/everywhere.ts';
import { spokenBells } from './en/spoken-bells.ts';
import { wall } from './en/wall.ts';
import { spokenLanguage } from './spoken.ts';
import type { Language } from './spoken.ts';
import type { Words } from './words.ts';

/** What the wall says: it loads its own words only, since it must be there quickly on a small machine. */
export type WallWords = Pick<Words, keyof typeof everywhere | 'wall' | 'spokenBells'>;

const catalogues = { en: { ...everywhere, wall, spokenBells } } as const satisfies Record<Language, WallWords>;

export function wallWords(): WallWords {
  return catalogues[spokenLanguage()];
}

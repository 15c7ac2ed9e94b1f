import { chair } from './en/chair.ts';
import { everywhere } from './en/everywhere.ts';
import { front } from './en/front.ts';
import { kept } from './en/kept.ts';
import { pocket } from './en/pocket.ts';
import { salon } from './en/salon.ts';
import { sheet } from './en/sheet.ts';
import { spokenBells } from './en/spoken-bells.ts';
import { lost, unattended } from './en/trust.ts';
import { wall } from './en/wall.ts';

/**
 * Every sentence a person reads, in English. Another language is one more file with the same shape:
 * `export const fr = { … } satisfies Words`, plus its line in `words.ts`. Parameters are named in the
 * functions' signatures; counts go through Intl.PluralRules.
 */
export const en = {
  ...everywhere,
  wall,
  spokenBells,
  front,
  salon,
  chair,
  kept,
  lost,
  unattended,
  pocket,
  sheet,
} as const;

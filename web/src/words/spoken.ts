/** The languages there are catalogues for. */
export const languages = ['en'] as const;
export type Language = (typeof languages)[number];

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

export function spokenLanguage(): Language {
  return spoken;
}

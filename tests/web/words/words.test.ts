import { describe, expect, it } from 'vitest';
import { clockTime, clockTimeToSecond } from '../../../web/src/words/clock-time.ts';
import { plurals } from '../../../web/src/words/plurals.ts';
import { languageFor, languages, speak } from '../../../web/src/words/spoken.ts';
import { words } from '../../../web/src/words/words.ts';

/** Every message of a catalogue with its path; functions are called with stand-ins. */
function messages(tree: object, path = ''): [string, string][] {
  return Object.entries(tree).flatMap(([name, value]: [string, unknown]): [string, string][] => {
    const here = path ? `${path}.${name}` : name;
    if (typeof value === 'string') return [[here, value]];
    if (typeof value === 'function') return [[here, String((value as (...args: unknown[]) => unknown)(2, 3, 4))]];
    return messages(value as object, here);
  });
}

describe('the catalogues', () => {
  it.each(languages)('%s says everything and leaves nothing empty', (language) => {
    speak(language);
    const said = messages(words());
    expect(said.length).toBeGreaterThan(40);
    for (const [path, text] of said) {
      expect(text.trim(), path).not.toBe('');
      expect(text, path).not.toMatch(/undefined|NaN|\[object/);
    }
    speak('en');
  });
  it.each(languages)('%s uses no sign that the typeface lacks', (language) => {
    speak(language);
    for (const [path, text] of messages(words())) expect(text, path).not.toMatch(/[→≈←]/);
    speak('en');
  });
  it('a wish for a language is met by its first subtag, else by English', () => {
    expect(languageFor('en')).toBe('en');
    expect(languageFor('en-US')).toBe('en');
    expect(languageFor('EN-gb')).toBe('en');
    expect(languageFor('tlh')).toBe('en');
  });
});

describe('counts', () => {
  it('take the form of their language', () => {
    const { takeBack } = words();
    expect(takeBack.left(1)).toBe('1 second to take back');
    expect(takeBack.left(2)).toBe('2 seconds to take back');
    expect(takeBack.left(0)).toBe('0 seconds to take back');
  });
  it('fall back to "other" for a form that a language does not write (Unicode CLDR plural rules)', () => {
    // French counts 0 as one; a million is "many" there.
    const french = plurals('fr').one;
    expect(french(0, { one: 'singular', other: 'plural' })).toBe('singular');
    expect(french(1_000_000, { one: 'singular', other: 'plural' })).toBe('plural');
  });
});

describe('clock times', () => {
  const at = Date.UTC(2026, 10, 25, 13, 3, 9);
  const style = { zone: 'Europe/Berlin', locale: 'en-GB', hours: 24 } as const;
  it('[E8] are shown in the salon’s zone, whatever the device’s is', () => {
    expect(clockTime(at, style)).toBe('14:03');
    expect(clockTime(at, { ...style, zone: 'America/New_York' })).toBe('08:03');
    expect(clockTimeToSecond(at, style)).toBe('14:03:09');
  });
  it('are shown with 12 hours where the salon wants it', () => {
    expect(clockTime(at, { ...style, hours: 12 }).replace(/\s/g, ' ')).toBe('2:03 pm');
    expect(clockTime(at - 13 * 3_600_000, { ...style, hours: 12 }).replace(/\s/g, ' ')).toBe('1:03 am');
  });
  it('midnight is 00 and noon is 12', () => {
    expect(clockTime(Date.UTC(2026, 10, 24, 23, 0), style)).toBe('00:00');
    expect(clockTime(Date.UTC(2026, 10, 25, 11, 0), { ...style, hours: 12 }).replace(/\s/g, ' ')).toBe('12:00 pm');
  });
});

import { MINUTE, SECOND, type Ms } from '../../../../core/time.ts';

/** What stands in a field of minutes: nothing, a length in whole seconds, or something else. */
export type Typed<T> =
  { readonly kind: 'empty' } | { readonly kind: 'value'; readonly value: T } | { readonly kind: 'not' };

const empty = { kind: 'empty' } as const;
const not = { kind: 'not' } as const;

/** "7", "7.5", "7,5" and "7:30" are minutes; lengths are kept to the second. */
export function minutesTyped(text: string): Typed<Ms> {
  const typed = text.trim();
  if (typed === '') return empty;
  const clock = /^(\d{1,4}):([0-5]\d)$/.exec(typed);
  if (clock) return { kind: 'value', value: Number(clock[1]) * MINUTE + Number(clock[2]) * SECOND };
  const number = numberTyped(typed);
  return number.kind === 'value'
    ? { kind: 'value', value: Math.round((number.value * MINUTE) / SECOND) * SECOND }
    : number;
}

/** Whole minutes as "7", others as "7:30", so that a kept length comes back as it was typed or clearer. */
export function minutesText(ms: Ms): string {
  const seconds = Math.round(ms / SECOND);
  const rest = seconds % 60;
  const minutes = Math.floor(seconds / 60);
  return rest === 0 ? String(minutes) : `${minutes}:${String(rest).padStart(2, '0')}`;
}

/** A number that is not negative, with a decimal point or comma. */
export function numberTyped(text: string): Typed<number> {
  const typed = text.trim().replace(',', '.');
  if (typed === '') return empty;
  return /^\d{1,9}(\.\d{0,4})?$|^\.\d{1,4}$/.test(typed) ? { kind: 'value', value: Number(typed) } : not;
}

/** "-3", with any dash that a keyboard writes. */
export function isNegative(text: string): boolean {
  return /^\s*[-\u2212\u2013]\s*[\d.,]/.test(text);
}

/** A whole number that is not negative. */
export function wholeTyped(text: string): Typed<number> {
  const typed = text.trim();
  if (typed === '') return empty;
  return /^\d{1,6}$/.test(typed) ? { kind: 'value', value: Number(typed) } : not;
}

/** At most `places` decimals, none that say nothing. */
export function numberText(value: number, places = 2): string {
  return String(Number(value.toFixed(places)));
}

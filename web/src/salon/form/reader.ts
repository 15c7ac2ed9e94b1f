import { HOUR, type Ms } from '../../../../core/time.ts';
import { faultAt, type FieldFault } from './fault.ts';
import { isNegative, minutesText, minutesTyped, numberTyped, wholeTyped, type Typed } from './minutes.ts';

/** Longest step that core/directions/check.ts lets through. */
export const LONGEST: Ms = 3 * HOUR;

/** Reads fields one by one; what cannot be read is noted and stands in for itself with a value that breaks no rule. */
export class Reader {
  readonly faults: FieldFault[] = [];

  minutes(field: string, text: string, standIn: Ms): Ms {
    const typed = minutesTyped(text);
    if (typed.kind === 'value') return typed.value;
    this.#unread(field, text, typed, 'not-minutes');
    return standIn;
  }

  /** A span that core's check does not look at. */
  minutesUpTo(field: string, text: string): Ms {
    const value = this.minutes(field, text, 0);
    if (value > LONGEST) this.faults.push(faultAt(field, 'out-of-range', '0', minutesText(LONGEST)));
    return value;
  }

  /** A longest that is missing stands in above any shortest, so that it alone is named. */
  most(field: string, text: string): Ms {
    if (text.trim() !== '') return this.minutesUpTo(field, text);
    this.faults.push(faultAt(field, 'missing'));
    return LONGEST;
  }

  minutesOrNull(field: string, text: string): Ms | null {
    const typed = minutesTyped(text);
    if (typed.kind === 'not') this.#unread(field, text, typed, 'not-minutes');
    return typed.kind === 'value' ? typed.value : null;
  }

  numberOrNull(field: string, text: string, least: number, most: number): number | null {
    const typed = numberTyped(text);
    if (typed.kind === 'not') this.#unread(field, text, typed, 'not-number');
    if (typed.kind !== 'value') return null;
    if (typed.value < least || typed.value > most) {
      this.faults.push(faultAt(field, 'out-of-range', String(least), String(most)));
    }
    return typed.value;
  }

  count(field: string, text: string, least: number, most: number): number {
    const typed = wholeTyped(text);
    if (typed.kind !== 'value') {
      this.#unread(field, text, typed, 'not-whole');
      return least;
    }
    if (typed.value < least || typed.value > most) {
      this.faults.push(faultAt(field, 'out-of-range', String(least), String(most)));
    }
    return typed.value;
  }

  /** A share in per cent as a fraction; nothing at all is no share. */
  share(field: string, text: string): number {
    const typed = numberTyped(text);
    if (typed.kind === 'value') {
      if (typed.value === 0) this.faults.push(faultAt(field, 'share-nothing'));
      return typed.value / 100;
    }
    this.#unread(field, text, typed, 'not-number');
    return 0;
  }

  #unread(field: string, text: string, typed: Typed<number>, not: FieldFault['fault']): void {
    const fault = typed.kind === 'empty' ? 'missing' : isNegative(text) ? 'negative' : not;
    this.faults.push(faultAt(field, fault));
  }
}

import type { RulesFault } from '../../../../core/directions/check.ts';

/** Everything that can be wrong with something typed; the catalogue puts it into words. */
export type EntryFault =
  | RulesFault['fault']
  | 'missing'
  | 'not-minutes'
  | 'negative'
  | 'not-number'
  | 'not-whole'
  | 'too-long'
  | 'share-nothing'
  | 'odd-signs'
  | 'no-zone'
  | 'number-taken'
  | 'label-taken'
  | 'name-taken'
  | 'softer'
  | 'no-contact';

/** One thing wrong, at the field that it is shown beside. `least` and `most` as the field's own unit writes them. */
export interface FieldFault {
  readonly field: string;
  readonly fault: EntryFault;
  readonly least: string | null;
  readonly most: string | null;
}

export function faultAt(field: string, fault: EntryFault, least: string | null = null, most: string | null = null) {
  return { field, fault, least, most } satisfies FieldFault;
}

/** A name or label: something in it, not too long once trimmed, no control characters (shared/schemas/basics.ts). */
export function wordFault(field: string, text: string, most: number): FieldFault | null {
  const word = text.normalize('NFC').trim();
  if (word === '') return faultAt(field, 'missing');
  if (word.length > most) return faultAt(field, 'too-long', null, String(most));
  return /\p{Cc}/u.test(word) ? faultAt(field, 'odd-signs') : null;
}

import type { PartPlace } from '../../../core/directions/rules.ts';
import type { Words } from './words.ts';

/** Where on the head a part lies, in words; empty for one that has only its place in the order. */
export function placeName(place: PartPlace | undefined, { chair }: Pick<Words, 'chair'>): string {
  return place === undefined || place === 'other' ? '' : chair.map.places[place];
}

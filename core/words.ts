import type { WordChange } from './events.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId, VisitId } from './ids.ts';

/** Keys under which words are kept aside from the log. */
export const wordKey = {
  salonName: () => 'salon/name',
  /** Whom a push service can ask about what is sent (RFC 8292, `sub`). */
  pushContact: () => 'push/contact',
  place: (number: PlaceNumber) => `place/${number}/label`,
  person: (person: PersonId) => `person/${person}/name`,
  directions: (directions: DirectionsId) => `directions/${directions}/name`,
  /** Where the figures were copied from: leaflet, edition. */
  source: (directions: DirectionsId, version: number) => `directions/${directions}/source/${version}`,
  service: (service: ServiceId) => `service/${service}/name`,
  /** Where all words about one visit begin. */
  aboutVisit: (visit: VisitId) => `visit/${visit}/`,
  visit: (visit: VisitId) => `visit/${visit}/label`,
  note: (visit: VisitId, version: number) => `visit/${visit}/note/${version}`,
} as const;

/** The words after some were written or erased. */
export function withWords(
  words: Readonly<Record<string, string>>,
  changes: readonly WordChange[],
): Readonly<Record<string, string>> {
  if (changes.length === 0) return words;
  const next: Record<string, string> = { ...words };
  for (const { key, text } of changes) {
    if (text === null) delete next[key];
    else next[key] = text;
  }
  return next;
}

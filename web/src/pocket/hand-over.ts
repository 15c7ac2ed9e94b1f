import type { PersonId, VisitId } from '../../../core/ids.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';

/** How a head's hand over stands to whoever holds a phone. */
export type Offer =
  { readonly kind: 'to-me'; readonly from: PersonId | null } | { readonly kind: 'waits'; readonly to: PersonId };

export function offerOf({ offered, stylist }: VisitFacts, person: PersonId | null): Offer | null {
  if (offered === null) return null;
  return offered.to === person ? { kind: 'to-me', from: stylist ?? offered.by } : { kind: 'waits', to: offered.to };
}

/** A head that its stylist offered to somebody. */
export interface Offered {
  readonly visit: VisitId;
  readonly to: PersonId;
}

/** Offers that somebody waits for: of their own heads, or made by them. */
export function offersOf(visits: readonly VisitFacts[], person: PersonId | null): readonly Offered[] {
  if (person === null) return [];
  return visits.flatMap(({ id, stylist, offered }) =>
    offered !== null && offered.to !== person && (stylist === person || offered.by === person)
      ? [{ visit: id, to: offered.to }]
      : [],
  );
}

/** What came of an offer that stood before and stands no more; a head that is gone needs no answer. */
export interface OfferNews extends Offered {
  readonly accepted: boolean;
}

export function offerNews(before: readonly Offered[], visits: readonly VisitFacts[]): readonly OfferNews[] {
  return before.flatMap((one) => {
    const visit = visits.find(({ id }) => id === one.visit);
    if (visit === undefined || visit.stage === 'finished' || visit.offered?.to === one.to) return [];
    const accepted = visit.stylist === one.to;
    // Offered to somebody else meanwhile: that stands, and nothing is news.
    return accepted || visit.offered === null ? [{ ...one, accepted }] : [];
  });
}

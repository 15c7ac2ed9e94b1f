import type { PersonId, VisitId } from '../../../core/ids.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { Session } from '../state/session.svelte.ts';
import { offerNews, offersOf, type Offered, type OfferNews } from './hand-over.ts';

/** Hand overs as whoever holds a phone sees them: what is offered to them, and what came of what they offered. */
export class HandOvers {
  /** Stands until it has been read. */
  news = $state.raw<readonly OfferNews[]>([]);
  readonly #session: Session;
  #waiting: readonly Offered[] = [];
  #person: PersonId | null = null;
  /** Taken back by hand on this phone: what one does oneself is no news. */
  #takenBack: readonly VisitId[] = [];

  constructor(session: Session) {
    this.#session = session;
  }

  get toMe(): readonly VisitFacts[] {
    const { mirror, person } = this.#session;
    return mirror.visits.map(({ facts }) => facts).filter(({ offered }) => person !== null && offered?.to === person);
  }

  /** Call as the floor changes. */
  look(): void {
    const { mirror, person } = this.#session;
    if (mirror.revision < 0) return;
    const visits = mirror.visits.map(({ facts }) => facts);
    const gone = person === this.#person ? offerNews(this.#waiting, visits) : [];
    const fresh = gone.filter(({ visit }) => !this.#takenBack.includes(visit));
    this.#takenBack = this.#takenBack.filter((id) => !gone.some(({ visit }) => visit === id));
    if (person !== this.#person) this.news = [];
    else if (fresh.length > 0) this.news = [...this.news.filter(isOther(fresh)), ...fresh].slice(-3);
    this.#person = person;
    this.#waiting = offersOf(visits, person);
  }

  read(one: OfferNews): void {
    this.news = this.news.filter((other) => other !== one);
  }

  offer(visit: VisitFacts, to: PersonId): void {
    void this.#session.about(visit, { type: 'OfferHead', visit: visit.id, to });
  }

  answer(visit: VisitFacts, accept: boolean): void {
    void this.#session.about(visit, { type: 'AnswerOffer', visit: visit.id, accept });
  }

  takeBack(visit: VisitFacts): void {
    this.#takenBack = [...this.#takenBack, visit.id];
    this.answer(visit, false);
  }
}

/** Of one head only the last is news. */
const isOther =
  (fresh: readonly OfferNews[]) =>
  ({ visit }: OfferNews): boolean =>
    !fresh.some((one) => one.visit === visit);

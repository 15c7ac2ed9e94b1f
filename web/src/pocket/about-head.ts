import { isAway, onShift, type People } from '../../../core/bells/circles.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { Words } from '../words/words.ts';
import { offerOf } from './hand-over.ts';

interface At {
  readonly now: EpochMs;
  readonly mirror: { readonly staff: People; readonly nameOf: (person: PersonId | null) => string | null };
  readonly clock: (at: EpochMs) => string;
}

/** Whose a head is, where it is not simply that of whoever looks: its stylist, who covers, to whom it is offered; null: theirs. */
export function aboutHead(visit: VisitFacts, person: PersonId | null, session: At, w: Words): string | null {
  const { mirror, now } = session;
  const { shift, handOver } = w.pocket;
  const stylist = visit.stylist === null ? undefined : mirror.staff[visit.stylist];
  const name = mirror.nameOf(visit.stylist);
  const said: string[] = [];
  if (stylist !== undefined && name !== null) {
    const away = onShift(stylist, now) && isAway(stylist, now) ? stylist.away : null;
    if (away !== null) {
      const cover = mirror.nameOf(away.cover);
      const until = session.clock(away.untilAt);
      said.push(cover === null ? shift.coversNobody(name, until) : shift.covers(name, until, cover));
    } else if (stylist.id !== person) said.push(name);
  }
  const offer = offerOf(visit, person);
  if (offer?.kind === 'to-me') said.push(handOver.shortToMe);
  if (offer?.kind === 'waits') said.push(handOver.short(mirror.nameOf(offer.to) ?? w.chair.helper.somebody));
  return said.length === 0 ? null : said.join(' · ');
}

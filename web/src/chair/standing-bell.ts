import type { Bell } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';

/** The bell that a head's screen shows: the most urgent one; among equals what the client said of the scalp, then what has stood longest. */
export function loudestBell(visit: VisitFacts | null): Bell | null {
  const [first] = [...(visit?.bells ?? [])].sort(
    (a, b) =>
      rankOf(b.level) - rankOf(a.level) ||
      Number(b.cause === 'tingles') - Number(a.cause === 'tingles') ||
      a.levelAt - b.levelAt,
  );
  return first ?? null;
}

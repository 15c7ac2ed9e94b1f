import type { Bell } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';

/** The bell that a head's lane shows: the most urgent one, among equals the one that has stood longest. */
export function loudestBell(visit: VisitFacts | null): Bell | null {
  const [first] = [...(visit?.bells ?? [])].sort((a, b) => rankOf(b.level) - rankOf(a.level) || a.levelAt - b.levelAt);
  return first ?? null;
}

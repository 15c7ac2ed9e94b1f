import type { PlaceNumber } from '../../../core/ids.ts';
import type { BellKind } from '../../../core/bells/bell.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { basinsFor } from '../chair/basins-for.ts';
import type { Act } from '../chair/next-act.ts';
import type { BasinOnFloor } from '../state/floor-mirror.svelte.ts';

type WaterAct = Extract<Act, { name: 'water-on' }>;

export interface WaterOffer {
  /** At the first free basin; with none free the basin is said later. */
  readonly main: WaterAct;
  readonly others: readonly WaterAct[];
}

/** Bells that water answers wherever the head is. */
const answered: readonly BellKind[] = ['rinse', 'over', 'back-to-rinse', 'tingles'];

/** Water on, as it is offered beside a bell; null where water is not its answer, or runs already. */
export function waterOffer(visit: VisitFacts, kind: BellKind, basins: readonly BasinOnFloor[]): WaterOffer | null {
  const burning = kind === 'burns' && visit.burns?.waterAt === null;
  const running = kind !== 'back-to-rinse' && (visit.stage === 'rinse' || visit.stage === 'finished');
  if (!burning && (running || !answered.includes(kind))) return null;
  const ordered = basinsFor(visit, basins);
  const [first] = ordered;
  const proposed = first !== undefined && first.free ? first.basin.number : null;
  const at = (basin: PlaceNumber | null): WaterAct => ({
    name: 'water-on',
    basin,
    command: { type: 'BeginRinse', chair: visit.chair, visit: visit.id, basin },
  });
  const others = ordered.filter(({ basin }) => basin.number !== proposed).map(({ basin }) => at(basin.number));
  return { main: at(proposed), others };
}

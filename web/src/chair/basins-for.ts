import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';
import type { BasinOnFloor } from '../state/floor-mirror.svelte.ts';

export interface BasinChoice {
  readonly basin: BasinOnFloor;
  /** Nobody else's water runs there. */
  readonly free: boolean;
}

/**
 * Basins in the order in which they are offered to a head: the one it is at already, then free ones, then those in
 * use; among equals by their number. Nothing is refused: two heads may share a basin when that is how it is.
 */
export function basinsFor(visit: VisitFacts | null, basins: readonly BasinOnFloor[]): readonly BasinChoice[] {
  const pass = visit === null ? null : currentPass(visit);
  const own = pass?.neutralizerWater?.basin ?? pass?.water?.basin ?? null;
  const rank = ({ basin, free }: BasinChoice): number => (!free ? 2 : basin.number === own ? 0 : 1);
  return basins
    .map((basin) => ({ basin, free: basin.heads.every((head) => head.id === visit?.id) }))
    .sort((a, b) => rank(a) - rank(b) || a.basin.number - b.basin.number);
}

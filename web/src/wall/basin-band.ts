import { minimumAt } from '../../../core/exposure/finishing.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { basinOf } from '../state/floor-mirror.svelte.ts';
import type { BasinOnFloor, ChairOnFloor } from '../state/floor-mirror.svelte.ts';

/** One basin and the chairs whose heads are there; `label` null: water is on, nobody said where. */
export interface BasinRow {
  readonly key: string;
  readonly label: string | null;
  readonly heads: readonly BasinHead[];
}

export interface BasinHead {
  readonly chair: number;
  readonly label: string;
  /** Since when the head has been at the water, and until when its present step takes at least. */
  readonly fromAt: number;
  readonly untilAt: number | null;
}

export function basinRows(basins: readonly BasinOnFloor[], chairs: readonly ChairOnFloor[]): readonly BasinRow[] {
  const labelOf = (visit: VisitFacts): string =>
    chairs.find(({ number }) => number === visit.chair)?.label ?? String(visit.chair);
  const rows = basins.map(({ number, label, heads }) => ({
    key: String(number),
    label,
    heads: heads.map((visit) => headAt(visit, labelOf(visit))),
  }));
  const nowhere = chairs.flatMap(({ visit, label }) =>
    visit !== null && visit.stage === 'rinse' && waterOn(visit) && basinOf(visit) === null
      ? [headAt(visit, label)]
      : [],
  );
  return nowhere.length === 0 ? rows : [...rows, { key: 'unknown', label: null, heads: nowhere }];
}

function waterOn(visit: VisitFacts): boolean {
  return currentPass(visit)?.water !== null;
}

function headAt(visit: VisitFacts, label: string): BasinHead {
  const pass = currentPass(visit);
  const water = pass?.neutralizerWater ?? pass?.water ?? null;
  return { chair: visit.chair, label, fromAt: water?.at ?? visit.seatedAt, untilAt: minimumAt(visit) };
}

import { openVisits, type Floor } from '../../floor.ts';
import { windowOf } from '../../exposure/window.ts';
import { earliest, MINUTE, SECOND, type EpochMs } from '../../time.ts';
import { currentPass, productOn, stageBegan, type VisitFacts } from '../../visit/visit.ts';
import type { BellLevel } from '../level.ts';
import type { Outside } from '../outside.ts';
import type { FloorCause } from './registry.ts';

/** A bell of the floor as it is due. */
export interface FloorDue {
  readonly level: BellLevel;
  readonly dueAt: EpochMs;
}

/** A phone that changes its network is not gone yet. */
const NOBODY_FOR = 30 * SECOND;
/** With a window so near, nobody to be reached is worth a harder bell. */
const WINDOW_NEAR = 5 * MINUTE;

/** What rows of a bell of the floor there are, lowest first: each from its instant on. */
export function floorRows(floor: Floor, cause: FloorCause, outside: Outside | null): readonly FloorDue[] {
  switch (cause) {
    case 'time-uncertain':
      return warning(floor.salon.uncertainSince);
    case 'not-saved':
      return warning(outside?.unsavedSince ?? null);
    case 'nobody-reached':
      return nobodyReached(openVisits(floor).filter(productOn), outside?.reach?.nobodySince ?? null);
    default:
      return cause satisfies never;
  }
}

function warning(since: EpochMs | null): readonly FloorDue[] {
  return since === null ? [] : [{ level: 'WARNING', dueAt: since }];
}

function nobodyReached(heads: readonly VisitFacts[], nobodySince: EpochMs | null): readonly FloorDue[] {
  if (nobodySince === null || heads.length === 0) return [];
  const onSince = Math.min(...heads.map((head) => currentPass(head)?.begun?.at ?? stageBegan(head)));
  const dueAt = Math.max(nobodySince, onSince) + NOBODY_FOR;
  const opensAt = earliest(...heads.map(windowBegins));
  const rows: FloorDue[] = [{ level: 'CAUTION', dueAt }];
  if (opensAt !== null) rows.push({ level: 'WARNING', dueAt: Math.max(dueAt, opensAt - WINDOW_NEAR) });
  return rows;
}

/** From when a head may want somebody; null while that hangs on the end of its application. */
function windowBegins(head: VisitFacts): EpochMs | null {
  const pass = currentPass(head);
  if (pass === null || pass.applied === null || head.stage !== 'process') return null;
  const window = windowOf(pass, pass.applied.at);
  return window === null ? null : Math.min(window.opensAt, window.closesAt);
}

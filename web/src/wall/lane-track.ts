import { neutralizerWindow } from '../../../core/exposure/finishing.ts';
import { partWindows, windowOf } from '../../../core/exposure/window.ts';
import type { Sureness } from '../../../core/visit/headline.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { StageSpan } from '../parts/geometry/rail.ts';
import type { WindowTimes } from '../parts/geometry/window.ts';

/** What a lane draws on the axis. */
export interface LaneTrack {
  readonly spans: readonly StageSpan[];
  readonly window: WindowTimes | null;
  /** Each part's own window, drawn instead where the head has no room (E4). */
  readonly parts: readonly WindowTimes[];
  readonly sureness: Sureness;
  /** Product is on the hair: past the close a beam grows. */
  readonly late: boolean;
}

const NOTHING: LaneTrack = { spans: [], window: null, parts: [], sureness: 'firm', late: false };

/** `uncertain`: no number of this screen may stand unmarked at the moment (V2). */
export function laneTrack(visit: VisitFacts | null, now: number, uncertain: boolean): LaneTrack {
  if (visit === null) return NOTHING;
  const spans = spansOf(visit);
  const pass = currentPass(visit);
  if (pass === null) return { ...NOTHING, spans };
  if (visit.stage === 'apply' || visit.stage === 'process') {
    const window = windowOf(pass, now);
    const sureness: Sureness = uncertain ? 'uncertain' : window?.expected ? 'expected' : 'firm';
    const parts = window !== null && window.roomMs < 0 ? partWindows(pass) : [];
    return { spans, window, parts, sureness, late: true };
  }
  const neutralizer = visit.stage === 'neutralize' ? neutralizerWindow(pass) : null;
  if (neutralizer === null) return { ...NOTHING, spans };
  return { spans, window: neutralizer, parts: [], sureness: uncertain ? 'uncertain' : 'firm', late: true };
}

/** The way so far, oldest first; the present stage is open-ended. */
export function spansOf(visit: VisitFacts): StageSpan[] {
  return visit.way.map(({ stage, at }, n) => ({ stage, fromAt: at, untilAt: visit.way[n + 1]?.at ?? null }));
}

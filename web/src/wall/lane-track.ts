import { neutralizerWindow } from '../../../core/exposure/finishing.ts';
import { nextTestAt } from '../../../core/exposure/strand-tests.ts';
import { certainClose, expectedFinish, latestFinish, partWindowsAt, windowOf } from '../../../core/exposure/window.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { HeadlineContext, Sureness } from '../../../core/visit/headline.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import type { Pass, VisitFacts } from '../../../core/visit/visit.ts';
import type { LaneMark } from '../parts/geometry/lane-marks.ts';
import type { StageSpan } from '../parts/geometry/rail.ts';
import type { WindowTimes } from '../parts/geometry/window.ts';

/** What a lane draws on the axis. */
export interface LaneTrack {
  readonly spans: readonly StageSpan[];
  readonly window: WindowTimes | null;
  /** Each part's own window, drawn instead where the head has no room (E4). */
  readonly parts: readonly WindowTimes[];
  readonly marks: readonly LaneMark[];
  readonly sureness: Sureness;
  /** Of the close alone: what hangs on first touch is certain while the rest is only expected (E3). */
  readonly closing: Sureness;
  /** Product is on the hair: past the close a beam grows. */
  readonly late: boolean;
}

const NOTHING: LaneTrack = {
  spans: [],
  window: null,
  parts: [],
  marks: [],
  sureness: 'firm',
  closing: 'firm',
  late: false,
};

/**
 * `drawnAt`: the instant that the axis stands at, which moves on by whole px only. That room is gone is judged at `now`, so
 * that every screen shows it in the same second. While `uncertain` no number of a screen may stand unmarked (V2).
 */
export function laneTrack(visit: VisitFacts | null, context: HeadlineContext, drawnAt: EpochMs): LaneTrack {
  if (visit === null) return NOTHING;
  const spans = spansOf(visit);
  const pass = currentPass(visit);
  if (pass === null) return { ...NOTHING, spans };
  if (visit.stage === 'apply' || visit.stage === 'process') {
    const window = windowOf(pass, drawnAt);
    const sureness: Sureness = context.uncertain ? 'uncertain' : window?.expected ? 'expected' : 'firm';
    const noRoom = (windowOf(pass, context.now)?.roomMs ?? 0) < 0;
    const parts = noRoom ? partWindowsAt(pass, drawnAt) : [];
    const closing = sureness === 'expected' && window?.closesAt === certainClose(pass) ? 'firm' : sureness;
    return { spans, window, parts, marks: marksOf(visit, pass, context, drawnAt), sureness, closing, late: true };
  }
  const neutralizer = visit.stage === 'neutralize' ? neutralizerWindow(pass) : null;
  if (neutralizer === null) return { ...NOTHING, spans };
  const sureness = context.uncertain ? 'uncertain' : 'firm';
  return { spans, window: neutralizer, parts: [], marks: [], sureness, closing: sureness, late: true };
}

function marksOf(visit: VisitFacts, pass: Pass, { figures }: HeadlineContext, drawnAt: EpochMs): readonly LaneMark[] {
  const tested = pass.tests.map(({ at }): LaneMark => ({ kind: 'tested', at }));
  if (visit.stage === 'apply') {
    return [
      ...mark('finish-by', latestFinish(pass, figures)),
      ...mark('finish', expectedFinish(pass, drawnAt)),
      ...tested,
    ];
  }
  const window = windowOf(pass, drawnAt);
  return [...tested, ...mark('test-due', window === null ? null : nextTestAt(pass, window.closesAt))];
}

function mark(kind: LaneMark['kind'], at: EpochMs | null): readonly LaneMark[] {
  return at === null ? [] : [{ kind, at }];
}

/** The way so far, oldest first; the present stage is open-ended. */
export function spansOf(visit: VisitFacts): StageSpan[] {
  return visit.way.map(({ stage, at }, n) => ({ stage, fromAt: at, untilAt: visit.way[n + 1]?.at ?? null }));
}

import { windowOf } from '../../exposure/window.ts';
import type { Figures } from '../../salon/salon.ts';
import { SECOND, type EpochMs } from '../../time.ts';
import { currentPass, type Pass, type VisitFacts, type Water } from '../../visit/visit.ts';
import type { BellRule } from './rule.ts';

const ASK_AFTER = 90 * SECOND;

/** Too early to be meant: before the window or, where there is no room and so no "from", before `rinse` stood (E4). */
function before(pass: Pass, at: EpochMs, { rinseLeadMs, walkMs }: Figures): boolean {
  const window = windowOf(pass, at);
  if (window === null) return false;
  const { opensAt, closesAt } = window;
  return at < (opensAt <= closesAt ? opensAt : closesAt - rinseLeadMs - walkMs);
}

/** The instant at which the visit came to its present pass; its product may have no recorded begin. */
function passBegan(visit: VisitFacts): EpochMs {
  return visit.way.find((one) => one.pass === visit.pass)?.at ?? visit.seatedAt;
}

/**
 * The first water, if it may have been said to be on by mistake: before the window, or with neither basin nor person. Water
 * said to be on once more does not answer that.
 */
function doubtful(visit: VisitFacts, figures: Figures): { readonly pass: Pass; readonly water: Water } | null {
  const pass = visit.stage === 'rinse' ? currentPass(visit) : null;
  const water = pass?.firstWater ?? null;
  if (pass === null || pass.water === null || water === null || water.confirmed) return null;
  // Whoever is burnt has somebody beside them, and only one thing to think of.
  if (visit.burns !== null && visit.burns.at >= passBegan(visit)) return null;
  return before(pass, water.at, figures) || (water.basin === null && water.by === null) ? { pass, water } : null;
}

function askAt(visit: VisitFacts, figures: Figures): EpochMs | null {
  const asked = doubtful(visit, figures);
  return asked === null ? null : asked.water.at + ASK_AFTER;
}

/** Is the water really on? Ends when the basin is named or the water runs clear. */
export const waterOnAsk: BellRule = {
  cause: 'water-on?',
  kind: 'water-on?',
  level: () => 'CAUTION',
  from: askAt,
};

/** Asked louder once the close has come; a begin nobody knows counts as past it (S2); what product nobody knows has none. */
export const waterOnAskLouder: BellRule = {
  cause: 'water-on?',
  kind: 'water-on?',
  level: () => 'WARNING',
  from: (visit, figures) => {
    const asked = doubtful(visit, figures);
    if (asked === null) return null;
    const askedAt = asked.water.at + ASK_AFTER;
    const window = windowOf(asked.pass, asked.water.at);
    if (window === null) return asked.pass.beginUnknown && asked.pass.rules !== null ? askedAt : null;
    return Math.max(askedAt, window.closesAt);
  },
};

import { windowOf } from '../../../core/exposure/window.ts';
import type { PersonId, PlaceNumber, VisitId } from '../../../core/ids.ts';
import { wholeSecond, type EpochMs } from '../../../core/time.ts';
import type { Visit } from '../../../core/visit/history.ts';
import type { Pass, VisitFacts, Water } from '../../../core/visit/visit.ts';

/** The first water on one product, against the window it was to come in. */
export interface RinseRow {
  readonly visit: VisitId;
  readonly pass: number;
  readonly class: string | null;
  /** Null when nobody knows since when product was on (S2): then there is no window either. */
  readonly begunAt: EpochMs | null;
  readonly opensAt: EpochMs | null;
  readonly closesAt: EpochMs | null;
  /** 1 when water came before the end of application, so that the window is the expected one (E7). */
  readonly expected: 0 | 1;
  readonly waterAt: EpochMs;
  readonly basin: PlaceNumber | null;
  readonly clearAt: EpochMs | null;
  /** `later` when its time was entered or corrected after the fact. */
  readonly entered: 'live' | 'later';
  /** 1 when burns sent the head to the water (S6): left out of figures on punctuality. */
  readonly burns: 0 | 1;
  readonly by: PersonId | null;
}

/** Told in the moment it happened: recorded within the second it names, moments being whole seconds (T1). */
function enteredLive(visit: Visit, water: Water): boolean {
  const entry = visit.history.find((one) => one.version === water.version);
  return entry !== undefined && entry.at === wholeSecond(entry.recordedAt);
}

function sentByBurns({ burns }: VisitFacts, pass: Pass, water: Water): boolean {
  if (burns === null || burns.at > water.at) return false;
  return pass.begun === null || burns.at >= pass.begun.at;
}

/** One row per pass that has met water. */
export function rinsesOf(visit: Visit): RinseRow[] {
  const rows: RinseRow[] = [];
  visit.facts.passes.forEach((pass, index) => {
    const water = pass.firstWater;
    if (water === null) return;
    const window = windowOf(pass, water.at);
    rows.push({
      visit: visit.facts.id,
      pass: index,
      class: pass.rules?.class ?? null,
      begunAt: pass.begun?.at ?? null,
      opensAt: window?.opensAt ?? null,
      closesAt: window?.closesAt ?? null,
      expected: window?.expected === true ? 1 : 0,
      waterAt: water.at,
      basin: water.basin,
      clearAt: pass.clear?.at ?? null,
      entered: enteredLive(visit, water) ? 'live' : 'later',
      burns: sentByBurns(visit.facts, pass, water) ? 1 : 0,
      by: water.by,
    });
  });
  return rows;
}

import type { Rules } from '../../../../core/directions/rules.ts';
import { nextTestAt } from '../../../../core/exposure/strand-tests.ts';
import { latestFinish, partWindows, windowOf, type PartWindow, type Window } from '../../../../core/exposure/window.ts';
import type { Figures } from '../../../../core/salon/salon.ts';
import { MINUTE, type Ms } from '../../../../core/time.ts';
import type { Mark, Pass, PartDone } from '../../../../core/visit/visit.ts';

/** How the application went: two thirds of what is planned, as planned, half as long again. */
export const paces = ['fast', 'nominal', 'slow'] as const;
export type Pace = (typeof paces)[number];
const factor = { fast: 2 / 3, nominal: 1, slow: 3 / 2 } as const satisfies Record<Pace, number>;

export interface PreviewLane {
  readonly pace: Pace;
  /** First touch is 0; everything is counted from there. */
  readonly tookMs: Ms;
  readonly window: Window;
  /** Drawn instead when the head has no room (E4). */
  readonly parts: readonly PartWindow[];
  /** First strand test (E6); null where none comes before the close. */
  readonly testMs: Ms | null;
  /** Until when this head must be finished (P3); null without a ceiling. */
  readonly finishByMs: Ms | null;
  /** How much earlier own ceilings of parts close it (E3); 0: not at all. */
  readonly earlierMs: Ms;
}

export interface Preview {
  readonly lanes: readonly PreviewLane[];
  /** Until when an application that goes as planned must be finished (P3), the reserve kept; null without a ceiling. */
  readonly finishByMs: Ms | null;
  /** Kept between that and what the ceiling demands (P3). */
  readonly reserveMs: Ms;
  /** Length of the axis that shows all of it. */
  readonly axisMs: Ms;
}

const mark = (at: number): Mark => ({ at, by: null, version: 1 });

/** A pass that nobody had: first touch at 0, every part marked as its share of the time went by; heat on, or said to be off. */
export function madeUpPass(rules: Rules, tookMs: Ms, heated = false): Pass {
  let begunAt = 0;
  let share = 0;
  const parts = rules.parts.map((plan, part): PartDone => {
    share += plan.share;
    const doneAt = part === rules.parts.length - 1 ? tookMs : Math.round(tookMs * share);
    const done = { part, begunAt, doneAt, by: null };
    begunAt = doneAt;
    return done;
  });
  return {
    directions: null,
    directionsVersion: null,
    rules,
    begun: mark(0),
    beginUnknown: false,
    parts,
    hands: [{ by: null, fromAt: 0, untilAt: null, freeAt: tookMs }],
    leftInWork: [],
    tests: [],
    heat: { ...mark(0), on: heated },
    heated,
    limits: null,
    applied: mark(tookMs),
    water: null,
    firstWater: null,
    clear: null,
    shampoos: [],
    neutralizerOn: null,
    neutralizerWater: null,
    rodsOut: null,
    closeBought: false,
  };
}

/** Whole minutes from five up, else half ones: nobody plans an application to the second. */
function took(rules: Rules, pace: Pace): Ms {
  const step = rules.nominalMs >= 5 * MINUTE ? MINUTE : MINUTE / 2;
  return pace === 'nominal' ? rules.nominalMs : Math.round((rules.nominalMs * factor[pace]) / step) * step;
}

function laneOf(rules: Rules, figures: Figures, heated: boolean, pace: Pace): PreviewLane | null {
  const tookMs = took(rules, pace);
  const pass = madeUpPass(rules, tookMs, heated);
  const window = windowOf(pass, tookMs);
  if (window === null) return null;
  const asHead = { ...rules, parts: rules.parts.map((part) => ({ ...part, ceilingMs: null })) };
  const byHead = windowOf(madeUpPass(asHead, tookMs, heated), tookMs);
  return {
    pace,
    tookMs,
    window,
    parts: window.roomMs < 0 ? partWindows(pass) : [],
    testMs: nextTestAt(pass, window.closesAt),
    finishByMs: latestFinish(pass, figures),
    earlierMs: byHead === null ? 0 : byHead.closesAt - window.closesAt,
  };
}

/** The window after a fast, a planned and a slow application, from core's own functions; under heat or without (E10). */
export function previewOf(rules: Rules, figures: Figures, heated = false): Preview {
  const lanes = paces.flatMap((pace) => laneOf(rules, figures, heated, pace) ?? []);
  const ends = lanes.flatMap(({ window, parts }) => [
    window.opensAt,
    window.closesAt,
    ...parts.flatMap(({ opensAt, closesAt }) => [opensAt, closesAt]),
  ]);
  const axisMs = Math.ceil((Math.max(...ends) + 2 * MINUTE) / (5 * MINUTE)) * 5 * MINUTE;
  return {
    lanes,
    finishByMs: lanes.find(({ pace }) => pace === 'nominal')?.finishByMs ?? null,
    reserveMs: Math.max(figures.reserveMs, figures.walkMs),
    axisMs,
  };
}

/** A distance of ticks that leaves at most eight of them. */
export function tickMinutes(axisMs: Ms): number {
  return [5, 10, 15, 20, 30, 60].find((every) => axisMs / (every * MINUTE) <= 8) ?? 60;
}

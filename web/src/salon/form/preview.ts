import type { Rules } from '../../../../core/directions/rules.ts';
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
}

export interface Preview {
  readonly lanes: readonly PreviewLane[];
  /** Until when the application must be finished (P3); null without a ceiling. */
  readonly finishByMs: number | null;
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

/** The window after a fast, a planned and a slow application, from core's own functions. */
export function previewOf(rules: Rules, figures: Figures): Preview {
  const lanes = paces.flatMap((pace): PreviewLane[] => {
    const tookMs = took(rules, pace);
    const pass = madeUpPass(rules, tookMs);
    const window = windowOf(pass, tookMs);
    return window === null ? [] : [{ pace, tookMs, window, parts: window.roomMs < 0 ? partWindows(pass) : [] }];
  });
  const ends = lanes.flatMap(({ window, parts }) => [
    window.opensAt,
    window.closesAt,
    ...parts.flatMap(({ opensAt, closesAt }) => [opensAt, closesAt]),
  ]);
  const axisMs = Math.ceil((Math.max(...ends) + 2 * MINUTE) / (5 * MINUTE)) * 5 * MINUTE;
  return { lanes, finishByMs: latestFinish(madeUpPass(rules, rules.nominalMs), figures), axisMs };
}

/** A distance of ticks that leaves at most eight of them. */
export function tickMinutes(axisMs: Ms): number {
  return [5, 10, 15, 20, 30, 60].find((every) => axisMs / (every * MINUTE) <= 8) ?? 60;
}

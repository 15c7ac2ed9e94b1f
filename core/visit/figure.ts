import { SECOND, type Ms } from '../time.ts';

/**
 * A number as painted, free of language (T6). `sign` is + once time is over.
 * `minutes` is whole minutes; `clock` is m:ss.
 */
export type Figure =
  | { readonly form: 'minutes'; readonly sign: '' | '+'; readonly minutes: number }
  | { readonly form: 'clock'; readonly sign: '' | '+'; readonly minutes: number; readonly seconds: number };

/** From here down a figure is m:ss, above it whole minutes (T6). */
const FINE_BELOW_SECONDS = 300;

/**
 * Time until an instant (T6). Time left is rounded up, so that 0:00 appears at the instant; time over is rounded
 * down with a plus. Over 5:00 whole minutes (left: rounded up, so the last is 6 min; over: rounded down).
 */
export function figureUntil(leftMs: number): Figure {
  if (leftMs > 0) {
    const seconds = Math.ceil(leftMs / SECOND);
    if (seconds > FINE_BELOW_SECONDS) return { form: 'minutes', sign: '', minutes: Math.ceil(seconds / 60) };
    return clock('', seconds);
  }
  // Adding 0 turns the −0 of the very instant into a plain zero, which some formatters would paint as "-0".
  const over = Math.floor(-leftMs / SECOND) + 0;
  if (over > FINE_BELOW_SECONDS) return { form: 'minutes', sign: '+', minutes: Math.floor(over / 60) };
  return clock(over === 0 ? '' : '+', over);
}

/** Time since an instant, rounded down, always m:ss (T6: time on hair; S6: the count under water). */
export function figureSince(goneMs: Ms): Figure {
  return clock('', Math.max(0, Math.floor(goneMs / SECOND)));
}

function clock(sign: '' | '+', seconds: number): Figure {
  return { form: 'clock', sign, minutes: Math.floor(seconds / 60), seconds: seconds % 60 };
}

import type { PersonId } from '../../core/ids.ts';
import type { Ms } from '../../core/time.ts';
import type { ServiceSold } from './salon.ts';

/** What one model's visit is like: who hurries, who dawdles, who forgets. All whims of the day lie here. */
export interface Temper {
  readonly service: ServiceSold;
  readonly label: string;
  /** Chair empty before this model is seated; seated to first touch. */
  readonly pauseMs: Ms;
  readonly prepMs: Ms;
  /** Prep is said to be complete so long before the first touch. */
  readonly readyMs: Ms;
  /** Whoever takes a pace bell stays and helps. */
  readonly helps: boolean;
  /** A strand test due to its result; hair is ready at this share of the window, below 0 before it, over 1 never in time. */
  readonly testMoreMs: Ms;
  readonly readyShare: number;
  /** Each part's time as a multiple of what the directions plan for it. */
  readonly pace: readonly number[];
  /** Where in the window water goes on, 0 at its opening to 1 at its close. */
  readonly share: number;
  /** So long after the close instead; 0: in time. */
  readonly lateMs: Ms;
  /** Bell rung to "I'll go", and from there to the water. */
  readonly takeMs: Ms;
  readonly goMs: Ms;
  readonly taker: PersonId;
  /** More than the least under water, and more than the least of a dwell. */
  readonly rinseMoreMs: Ms;
  readonly dwellMoreMs: Ms;
  /** Putting a neutralizer on rod by rod. */
  readonly neutralizerMs: Ms;
  /** The lather of what could have been the last shampoo is still coloured (S5). */
  readonly lastLatherColoured: boolean;
  readonly dryMs: Ms;
}

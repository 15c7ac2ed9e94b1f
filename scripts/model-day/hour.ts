import { SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import type { HandTurn } from '../../shared/wire.ts';
import type { Ask } from './ask.ts';
import { DAY_SO_FAR } from './opening.ts';
import type { Players } from './players.ts';
import type { View } from './view.ts';

/** Whoever moves the server's clock while the day so far is played. */
export interface Hand {
  /** Time goes on by so much. */
  pass(ms: Ms): void;
}

/** Bells ring at the turn that sees them due, so the clock is never moved further at once. */
const LONGEST_STEP: Ms = 30 * SECOND;
/** Far more than an hour takes. */
const MOST_STEPS = 3_000;

/** Plays the day so far. Returns the instant it led to. */
export function playTheHour(players: Players, ask: Ask, hand: Hand): Promise<EpochMs> {
  return playUntil((view) => view.openedAt + DAY_SO_FAR, players, ask, hand);
}

/**
 * Looks, does what is due, moves the clock to whatever is next, until the end. Nothing may be refused: nobody else is
 * there yet.
 */
export async function playUntil(
  endOf: (view: View) => EpochMs,
  players: Players,
  ask: Ask,
  hand: Hand,
): Promise<EpochMs> {
  let { view, acts } = await players.look();
  for (let steps = 0; steps < MOST_STEPS; steps++) {
    const due = acts.filter((act) => act.at <= view.now);
    const end = endOf(view);
    if (due.length === 0 && view.now >= end) return view.now;
    if (due.length > 0) {
      const refused = await players.act(due);
      if (refused.length > 0) throw new Error(`the hour was refused: ${refused.join('; ')}`);
      ({ view, acts } = await players.look());
    } else {
      hand.pass(Math.min(end, view.now + LONGEST_STEP, ...acts.map((act) => act.at)) - view.now);
      ({ view, acts } = await players.lookAfter(await takeTurn(ask)));
    }
  }
  throw new Error(`the clock does not move: not at the end after ${MOST_STEPS} steps`);
}

/** The server wakes by real timers; after its clock was moved it is asked to look. */
export async function takeTurn(ask: Ask): Promise<HandTurn> {
  const { status, body } = await ask('POST', '/api/v1/hand-clock/turn', null);
  if (status !== 200) throw new Error(`the hand-driven clock was refused: ${status} ${JSON.stringify(body)}`);
  return body as HandTurn;
}

import type { BellCause, BellKind } from '../bell.ts';
import { abandoned, burns, tingles, tinglesUnanswered } from './harm.ts';
import { begunAsk, begunAskLouder, pace } from './application.ts';
import { longStage } from './long-stage.ts';
import { dwell, water } from './minimum.ts';
import { neutralizerOver, neutralizerRinse, neutralizerSoon } from './neutralizer.ts';
import { over, overLate, rinse, soon } from './off.ts';
import { backToRinse } from './shampoos.ts';
import { test } from './strand-test.ts';
import { unattended } from './unattended.ts';
import { waterOnAsk, waterOnAskLouder } from './water-on.ts';
import type { BellRule } from './rule.ts';

/** Causes whose subject is a visit; a cause's rows stand lowest first, and a later row replaces an earlier (R2). */
export const visitRules = {
  'begun?': [begunAsk, begunAskLouder],
  pace: [pace],
  test: [test],
  off: [soon, rinse, over, overLate],
  neutralizer: [neutralizerSoon, neutralizerRinse, neutralizerOver],
  'water-on?': [waterOnAsk, waterOnAskLouder],
  water: [water],
  dwell: [dwell],
  'back-to-rinse': [backToRinse],
  'long-stage': [longStage],
  unattended: [unattended],
  tingles: [tingles, tinglesUnanswered],
  burns: [burns],
  abandoned: [abandoned],
} as const satisfies Partial<Record<BellCause, readonly BellRule[]>>;

export type VisitCause = keyof typeof visitRules;

/** Causes whose subject is the floor. */
export const floorCauses = ['time-uncertain', 'not-saved', 'nobody-reached'] as const satisfies readonly BellCause[];
export type FloorCause = (typeof floorCauses)[number];

/** The one cause whose subject is a chair: whoever sits there or not. */
export const chairCause = 'help' satisfies BellCause;

/** Every cause has a home: a new one that has none does not compile. */
type Homeless = Exclude<BellCause, VisitCause | FloorCause | typeof chairCause>;
true satisfies Homeless extends never ? true : false;

/** Every kind is made by a rule, by a chair or by the floor. */
export const kindHomes = {
  'begun?': 'visit',
  pace: 'visit',
  test: 'visit',
  'water-on?': 'visit',
  soon: 'visit',
  rinse: 'visit',
  over: 'visit',
  water: 'visit',
  dwell: 'visit',
  'back-to-rinse': 'visit',
  'long-stage': 'visit',
  unattended: 'visit',
  tingles: 'visit',
  help: 'chair',
  burns: 'visit',
  abandoned: 'visit',
  'nobody-reached': 'floor',
  'time-uncertain': 'floor',
  'not-saved': 'floor',
} as const satisfies Record<BellKind, 'visit' | 'chair' | 'floor'>;

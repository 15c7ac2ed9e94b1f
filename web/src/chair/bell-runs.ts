import type { BellCause, BellEnd, BellKind, Circle, WidenReason } from '../../../core/bells/bell.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import type { PersonId } from '../../../core/ids.ts';
import { SECOND, type EpochMs, type Ms } from '../../../core/time.ts';
import { isBellStep, type BellStepEvent } from '../../../core/visit/events.ts';
import type { RecordedOfVisit } from '../../../shared/wire.ts';

/** One step of a bell as it is read. Being shown, or not, to several within moments is one step. */
export type RunStep =
  | { readonly what: 'rung'; readonly at: EpochMs; readonly kind: BellKind; readonly level: BellLevel }
  | { readonly what: 'shown' | 'missed'; readonly at: EpochMs; readonly people: readonly PersonId[] }
  | { readonly what: 'carried'; readonly at: EpochMs; readonly circle: Circle; readonly why: WidenReason }
  | { readonly what: 'taken' | 'passed'; readonly at: EpochMs; readonly by: PersonId | null }
  | { readonly what: 'ended'; readonly at: EpochMs; readonly why: BellEnd };

/** What became of one bell of a head, from its first ring to its end (R9). */
export interface BellRun {
  /** Of the row it is named by: it stands in the record where it came to that. */
  readonly version: number;
  readonly at: EpochMs;
  readonly cause: BellCause;
  readonly episode: number;
  /** As it was rung last. */
  readonly kind: BellKind;
  readonly level: BellLevel;
  readonly steps: readonly RunStep[];
}

/** Receipts of one ring come within this. */
const TOGETHER: Ms = 5 * SECOND;

/** All bells of a head by cause and episode, in the order in which they were first rung. */
export function bellRuns(events: readonly RecordedOfVisit[]): readonly BellRun[] {
  const runs: BellRun[] = [];
  for (const { event, version, at, by } of events) {
    if (!isBellStep(event)) continue;
    const run = [...runs].reverse().find((one) => one.cause === event.cause && fits(one, event));
    const step = stepOf(event, at, by);
    if (run !== undefined) runs[runs.indexOf(run)] = grown(run, step, version);
    else if (step.what === 'rung' && event.type === 'BellRung') {
      const { cause, episode, kind, level } = event;
      runs.push({ version, at, cause, episode, kind, level, steps: [step] });
    }
  }
  return runs;
}

/** "I'll go" and "can't" name no episode: they mean the one that stands. */
function fits(run: BellRun, event: BellStepEvent): boolean {
  return !('episode' in event) || event.episode === run.episode;
}

function stepOf(event: BellStepEvent, at: EpochMs, by: PersonId | null): RunStep {
  switch (event.type) {
    case 'BellRung':
      return { what: 'rung', at, kind: event.kind, level: event.level };
    case 'BellShown':
      return { what: 'shown', at, people: [event.person] };
    case 'BellNotReached':
      return { what: 'missed', at, people: [event.person] };
    case 'BellWidened':
      return { what: 'carried', at, circle: event.circle, why: event.why };
    case 'BellTaken':
      return { what: 'taken', at, by };
    case 'BellPassed':
      return { what: 'passed', at, by };
    case 'BellEnded':
      return { what: 'ended', at, why: event.why };
    default:
      return event satisfies never;
  }
}

function grown(run: BellRun, step: RunStep, version: number): BellRun {
  const last = run.steps[run.steps.length - 1];
  const told = step.what === 'shown' || step.what === 'missed';
  if (told && last !== undefined && last.what === step.what && step.at - last.at <= TOGETHER) {
    const people = [...last.people, ...step.people.filter((one) => !last.people.includes(one))];
    return { ...run, steps: [...run.steps.slice(0, -1), { ...last, people }] };
  }
  const as = step.what === 'rung' ? { version, at: step.at, kind: step.kind, level: step.level } : {};
  return { ...run, ...as, steps: [...run.steps, step] };
}

/** A run of more steps is folded until it is asked for. */
const FOLDED_FROM = 5;
export const isLong = ({ steps }: BellRun): boolean => steps.length >= FOLDED_FROM;

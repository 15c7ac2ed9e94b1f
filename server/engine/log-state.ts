import { visitOf, type Draft, type Recorded, type Stream, type WordChange } from '../../core/events.ts';
import { evolve } from '../../core/evolve.ts';
import type { Floor } from '../../core/floor.ts';
import type { CommandId, DeviceId, PersonId } from '../../core/ids.ts';
import type { EpochMs } from '../../core/time.ts';
import { withWords } from '../../core/words.ts';
import type { Opened } from '../store/store.ts';

/** The floor and how far the log has come; a value, so that a turn that could not be stored leaves no trace. */
export interface LogState {
  readonly floor: Floor;
  readonly seq: number;
  readonly versions: Opened['versions'];
}

/** Who caused an event; all null for what the floor did by itself. */
export interface Cause {
  readonly by: PersonId | null;
  readonly device: DeviceId | null;
  readonly command: CommandId | null;
}

export const byItself: Cause = { by: null, device: null, command: null };

export interface Appended {
  readonly state: LogState;
  readonly events: readonly Recorded[];
}

/** Gives each draft its place in the log and folds it. */
export function append(
  before: LogState,
  drafts: readonly Draft[],
  words: readonly WordChange[],
  cause: Cause,
  now: EpochMs,
): Appended {
  let { floor, seq, versions } = before;
  const events: Recorded[] = [];
  for (const draft of drafts) {
    seq += 1;
    const version = versionOf(floor, versions, draft.stream) + 1;
    if (visitOf(draft.stream) === null) versions = { ...versions, [draft.stream]: version };
    const recorded: Recorded = { ...draft, seq, version, recordedAt: now, ...cause };
    floor = evolve(floor, recorded);
    events.push(recorded);
  }
  return { state: { floor: { ...floor, words: withWords(floor.words, words) }, seq, versions }, events };
}

function versionOf(floor: Floor, versions: Opened['versions'], stream: Stream): number {
  const visit = visitOf(stream);
  if (visit !== null) return floor.visits[visit]?.facts.version ?? 0;
  return versions[stream as keyof Opened['versions']];
}

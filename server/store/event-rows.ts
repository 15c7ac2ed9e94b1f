import type { Recorded, Stream } from '../../core/events.ts';
import { upcast, type StoredBody } from './upcast.ts';

/** One event as it lies in the file. */
export interface EventRow {
  readonly seq: number;
  readonly stream: string;
  readonly version: number;
  readonly type: string;
  readonly at: number;
  readonly recordedAt: number;
  readonly by: string | null;
  readonly device: string | null;
  readonly command: string | null;
  /** JSON of the event without its type. */
  readonly body: string;
}

/** The columns in their names here; `FROM event` and the rest is each query's own. */
export const eventColumns =
  'seq, stream, version, type, at, recorded_at AS recordedAt, by_person AS "by", device, command, body';

export function rowOf(recorded: Recorded): EventRow {
  const { event, ...place } = recorded;
  const { type, ...body } = event;
  return { ...place, type, body: JSON.stringify(body) };
}

export function recordedOf(row: EventRow): Recorded {
  const { type, body, stream, ...place } = row;
  return { ...place, stream: stream as Stream, event: upcast(type, JSON.parse(body) as StoredBody) };
}

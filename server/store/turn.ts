import { visitOf } from '../../core/events.ts';
import type { VisitId } from '../../core/ids.ts';
import type { Visit } from '../../core/visit/history.ts';
import type { Batch, Opened } from './store.ts';

/** Last version of each stream that is read whole at a start. */
export function versionsOf(
  events: readonly { readonly stream: string; readonly version: number }[],
): Opened['versions'] {
  const versions = { salon: 0, people: 0, directions: 0 };
  for (const { stream, version } of events) {
    if (stream === 'salon' || stream === 'people' || stream === 'directions') versions[stream] = version;
  }
  return versions;
}

/** The visits of a turn as they are after it. */
export function touched(batches: readonly Batch[]): Map<VisitId, Visit> {
  const visits = new Map<VisitId, Visit>();
  for (const { events, floor } of batches) {
    for (const { stream } of events) {
      const id = visitOf(stream);
      if (id === null) continue;
      const visit = floor.visits[id];
      if (visit === undefined) throw new Error(`an event of a visit that the floor does not hold: ${id}`);
      visits.set(id, visit);
    }
  }
  return visits;
}

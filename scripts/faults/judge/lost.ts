import type { EventRow } from '../../../server/store/event-rows.ts';

/** A command whose sender was answered, and what it was told. */
export interface Acknowledged {
  readonly id: string;
  readonly status: number;
  /** The wire's answer or a problem document. */
  readonly body: Readonly<Record<string, unknown>>;
}

/** What a data file holds. */
export interface Stored {
  readonly rows: readonly EventRow[];
  /** Kept answers as JSON text, by the command's id. */
  readonly answers: ReadonlyMap<string, string>;
}

/** Acknowledged commands of which the file does not hold the answer as told, with the events that it speaks of. */
export function lostOf(acknowledged: readonly Acknowledged[], { rows, answers }: Stored): string[] {
  const byCommand = new Map<string, EventRow[]>();
  for (const row of rows) {
    if (row.command === null) continue;
    const own = byCommand.get(row.command);
    if (own === undefined) byCommand.set(row.command, [row]);
    else own.push(row);
  }
  const last = rows.at(-1)?.seq ?? 0;
  return acknowledged.flatMap((one) => {
    const why = whyLost(one, answers.get(one.id), byCommand.get(one.id) ?? [], last);
    return why === null ? [] : [`${one.id}: ${why}`];
  });
}

function whyLost(
  { status, body }: Acknowledged,
  text: string | undefined,
  events: readonly EventRow[],
  last: number,
): string | null {
  if (text === undefined) return 'its answer is not kept';
  const kept = JSON.parse(text) as { accepted?: Record<string, unknown>; refused?: Record<string, unknown> };
  if (status !== 200) return kept.refused?.['code'] === body['code'] ? null : 'another answer is kept';
  const { accepted } = kept;
  if (accepted === undefined || fields.some((name) => accepted[name] !== body[name])) return 'another answer is kept';
  if (Number(body['revision']) > last) return `the log ends at ${last}, before the revision that was told`;
  if (events.length === 0) return 'no event of it is in the log';
  const visit = body['visit'];
  if (typeof visit !== 'string') return null;
  const there = events.some((row) => row.stream === `visit/${visit}` && row.version === body['version']);
  return there ? null : 'the event that made the version it was told is not in the log';
}

const fields = ['outcome', 'visit', 'version', 'revision'] as const;

/** Places of the log that were read before and are not there as they were. */
export function changedOf(before: readonly EventRow[], after: readonly EventRow[]): number[] {
  const now = new Map(after.map((row) => [row.seq, JSON.stringify(row)]));
  return before.filter((row) => now.get(row.seq) !== JSON.stringify(row)).map((row) => row.seq);
}

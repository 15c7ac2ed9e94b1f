import { closeSync, existsSync, fsyncSync, openSync, readFileSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { visitOf } from '../../core/events.ts';
import type { VisitId } from '../../core/ids.ts';
import { syncFolder, writeDurably } from './damage.ts';
import type { Batch } from './store.ts';

/** Lies beside the data file and beside the backups: an older file that is restored still holds what was erased since. */
export const erasuresName = 'erasures.jsonl';

const erasureSchema = z.object({
  /** What every key of an erased word begins with. */
  prefix: z.string().regex(/^visit\/[A-Za-z0-9_-]{1,64}\/$/),
  /** On the timescale, epoch ms. */
  at: z.number(),
});

/** That the words under a prefix were erased, and when; never a word. */
export type Erasure = z.infer<typeof erasureSchema>;

export const wordsOfVisit = (visit: VisitId): string => `visit/${visit}/`;

/** The erasures that a turn brings: every word of those visits goes, whatever the batch names. */
export function erasuresIn(batches: readonly Pick<Batch, 'events'>[]): Erasure[] {
  return batches.flatMap(({ events }) =>
    events.flatMap(({ stream, at, event }) => {
      const visit = visitOf(stream);
      return visit !== null && event.type === 'WordsErased' ? [{ prefix: wordsOfVisit(visit), at }] : [];
    }),
  );
}

/** The list in a folder, oldest first. A line torn by a power cut is passed over: its turn was never stored. */
export function erasuresOf(folder: string): Erasure[] {
  const file = join(folder, erasuresName);
  return existsSync(file) ? readFileSync(file, 'utf8').split('\n').flatMap(lineRead) : [];
}

function lineRead(line: string): Erasure[] {
  try {
    return [erasureSchema.parse(JSON.parse(line))];
  } catch {
    return [];
  }
}

/** Adds to the list in a folder; returns once it is durable. */
export function noteErasures(folder: string, erasures: readonly Erasure[]): void {
  if (erasures.length === 0) return;
  const file = join(folder, erasuresName);
  const fresh = !existsSync(file);
  const fd = openSync(file, 'a');
  try {
    // A line of its own, even behind a torn one.
    writeSync(fd, erasures.map((one) => `\n${JSON.stringify(one)}`).join(''));
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
  if (fresh) syncFolder(dirname(file));
}

/** The lists of several folders as one, each erasure once. */
export function joined(lists: readonly (readonly Erasure[])[]): Erasure[] {
  const byPrefix = new Map<string, Erasure>();
  for (const erasure of lists.flat()) if (!byPrefix.has(erasure.prefix)) byPrefix.set(erasure.prefix, erasure);
  return [...byPrefix.values()].sort((a, b) => a.at - b.at);
}

/** Makes the list in a folder hold at least these; writes nothing if it does. */
export function shareErasures(erasures: readonly Erasure[], folder: string): void {
  const there = erasuresOf(folder);
  const all = joined([there, erasures]);
  if (all.length === joined([there]).length) return;
  writeDurably(join(folder, erasuresName), all.map((one) => `${JSON.stringify(one)}\n`).join(''));
}

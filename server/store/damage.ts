import { closeSync, fsyncSync, openSync, readFileSync, renameSync, writeSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { z } from 'zod';
import { dataFileName } from './file-names.ts';

/** Lies beside a data file that was found damaged, so that no later start writes to it. Taken away by a restore. */
export const markerName = `${dataFileName}.damaged.json`;

const damageSchema = z.object({
  /** Wall clock, epoch ms. */
  foundAt: z.number(),
  /** What the file's reader said; technical, and free of the file's contents. */
  what: z.string(),
  by: z.enum(['start', 'work', 'check']),
});

/** When and how a data file was found damaged. */
export type Damage = z.infer<typeof damageSchema>;

/** The finding that an earlier run left; null if there is none. A marker that cannot be understood still marks. */
export function markedDamage(folder: string): Damage | null {
  let text: string;
  try {
    text = readFileSync(join(folder, markerName), 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    return { foundAt: 0, what: 'its marker cannot be read', by: 'start' };
  }
  try {
    return damageSchema.parse(JSON.parse(text));
  } catch {
    return { foundAt: 0, what: 'its marker is not understood', by: 'start' };
  }
}

/** Leaves the finding for later starts, whole or not at all. Throws when the folder takes nothing. */
export function markDamage(folder: string, damage: Damage): void {
  writeDurably(join(folder, markerName), JSON.stringify(damage));
}

/** As `markDamage`, where a full disk must not hide what is worse; false if nothing was left. */
export function tryToMark(folder: string, damage: Damage): boolean {
  try {
    markDamage(folder, damage);
    return true;
  } catch {
    return false;
  }
}

/** Beside its place, synced, then renamed: a power cut leaves the old text or the new one. */
export function writeDurably(file: string, text: string): void {
  const beside = `${file}.new`;
  const fd = openSync(beside, 'w');
  try {
    writeSync(fd, text);
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
  renameSync(beside, file);
  syncFolder(dirname(file));
}

/** A rename is durable once its folder is. */
export function syncFolder(folder: string): void {
  const fd = openSync(folder, 'r');
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}

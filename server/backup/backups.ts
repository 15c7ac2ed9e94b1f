import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { namedBackup, type NamedBackup } from './backup-name.ts';
import { inspect, type Contents } from './inspect.ts';

/** Newest first; empty where there is no such folder. */
export function backupsIn(folder: string): NamedBackup[] {
  let names: readonly string[] = [];
  try {
    names = readdirSync(folder);
  } catch {
    return [];
  }
  const all = names.flatMap((name) => namedBackup(name) ?? []);
  return all.sort((a, b) => b.at - a.at || (a.name < b.name ? 1 : -1));
}

/** The newest that can be restored, looked through whole; null if none can. */
export function newestUsable(folder: string): { readonly backup: NamedBackup; readonly contents: Contents } | null {
  for (const backup of backupsIn(folder)) {
    const found = inspect(join(folder, backup.name));
    if (found.usable) return { backup, contents: found.contents };
  }
  return null;
}

/** Whether both lie on one medium, as far as the system says: then one broken disk takes both. */
export function onOneMedium(a: string, b: string): boolean {
  try {
    return statSync(a).dev === statSync(b).dev;
  } catch {
    return false;
  }
}

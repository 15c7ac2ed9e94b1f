import { existsSync, lstatSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { uptime } from 'node:os';
import { join } from 'node:path';
import { SECOND } from '../../core/time.ts';
import { bootId } from '../../server/clock/boot-id.ts';

/** Lies in folders that the model day made for itself; only those are ever emptied. */
export const MARK = '.model-day';

export class FolderRefused extends Error {}

/** Makes the folder anew. Whatever does not bear the mark is left as it is: it may be a real salon's. */
export function makeAnew(folder: string): void {
  if (existsSync(folder)) {
    const stat = lstatSync(folder);
    if (stat.isSymbolicLink() || !stat.isDirectory()) {
      throw new FolderRefused(`${folder} is not a folder of the model day's own. Name another: --data DIR`);
    }
    const inside = readdirSync(folder);
    if (inside.length > 0 && !inside.includes(MARK)) {
      throw new FolderRefused(`${folder} holds something that the model day did not make. Name another: --data DIR`);
    }
    if (inUse(folder)) {
      throw new FolderRefused(`A model day is running in ${folder} already. End it first, or name another: --data DIR`);
    }
    // The mark goes last: a removal cut short must not make the folder a stranger's.
    for (const name of inside.filter((one) => one !== MARK)) rmSync(join(folder, name), { recursive: true });
  }
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, MARK), JSON.stringify({ pid: process.pid, boot: thisBoot() }));
}

/** Whether the process that marked the folder is still there. Another boot's process never is. */
function inUse(folder: string): boolean {
  try {
    const { pid, boot } = JSON.parse(readFileSync(join(folder, MARK), 'utf8')) as { pid: number; boot: string };
    if (boot !== thisBoot() || pid === process.pid) return false;
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

function thisBoot(): string {
  return bootId(Date.now(), uptime() * SECOND);
}

import { readFileSync } from 'node:fs';
import { MINUTE, type EpochMs, type Ms } from '../../core/time.ts';

/** Linux: random anew at each boot (proc(5)). */
const BOOT_ID_FILE = '/proc/sys/kernel/random/boot_id';

/**
 * A name for this boot of the machine. Elsewhere than on Linux it is the minute in which the machine booted: a wall clock
 * stepped between two starts then looks like another boot, which errs to the water (T3), where one fixed name would
 * take another boot for the same and lose the time in between.
 */
export function bootId(wall: EpochMs, uptime: Ms, file = BOOT_ID_FILE): string {
  try {
    const id = readFileSync(file, 'utf8').trim();
    if (id !== '') return id;
  } catch {
    // Not Linux, or not shown to us.
  }
  return `booted-${Math.round((wall - uptime) / MINUTE)}`;
}

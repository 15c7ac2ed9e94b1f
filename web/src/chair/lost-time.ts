import type { Salon } from '../../../core/salon/salon.ts';
import { HOUR, type EpochMs, type Ms } from '../../../core/time.ts';
import type { Link } from '../state/link.svelte.ts';

/** What the server's machine has counted for certain since its last sign of life (T3). */
export function awayLeastMs({ uncertainSince, lastSure }: Salon): Ms {
  return uncertainSince === null || lastSure === null ? 0 : uncertainSince - lastSure.aliveAt;
}

/** Further off than this a device's clock is wrong rather than the server's (common practice, no source). */
const BELIEVABLE: Ms = 12 * HOUR;

/**
 * How much later it may be than the floor thinks: by a clock the server itself could believe, else by this device's own. A
 * proposal; 0 where neither says anything. `device`: its wall clock at the second that the screen then showed.
 */
export function proposedShiftMs(
  salon: Salon,
  { awayMs, civilOffsetMs }: Pick<Link, 'awayMs' | 'civilOffsetMs'>,
  device: { readonly wall: EpochMs; readonly now: EpochMs } | null,
): Ms {
  if (awayMs !== null) return Math.max(0, awayMs - awayLeastMs(salon));
  if (device === null) return 0;
  const shift = device.wall - civilOffsetMs - device.now;
  return shift > 0 && shift <= BELIEVABLE ? Math.round(shift) : 0;
}

import { roomLimits, soundedLevels, type Room, type SoundedLevel } from '../../../core/salon/room.ts';
import type { BellLevel } from '../../../core/bells/level.ts';

/**
 * How loud a burst of this level is, from 0 to 1 of what the device can, as a factor of its amplitude: each level within its
 * limits, and never quieter than a lesser one. What contradicts that is raised here and not refused, for a bell must sound
 * whatever the salon entered. All levels share one tone colour and peak, so the factor alone orders them as heard. NOTICE sounds
 * only as a test, and then as CAUTION.
 */
export function loudnessOf(level: BellLevel, volume: Room['volume']): number {
  const own: SoundedLevel = level === 'NOTICE' ? 'CAUTION' : level;
  let loudest = 0;
  for (const one of soundedLevels) {
    const [least, most] = roomLimits[one];
    const wished = volume[one];
    loudest = Math.max(loudest, Number.isFinite(wished) ? Math.min(most, Math.max(least, wished)) : most);
    if (one === own) break;
  }
  return loudest;
}

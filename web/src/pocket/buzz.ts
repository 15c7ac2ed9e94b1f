import type { BellLevel } from '../../../core/bells/level.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import { bellKey } from './ringing.ts';

/** How a bell sounds on this phone; null when it does not. */
type Sounds = (standing: StandingBell) => ReturnType<Session['sounds']>;

/** Pulses in ms, on and off; more for more urgent. NOTICE never sounds and never buzzes. */
const pulses = {
  DANGER: [400, 120, 400, 120, 400],
  WARNING: [300, 150, 300],
  CAUTION: [300],
  NOTICE: [],
} as const satisfies Record<BellLevel, readonly number[]>;

/** What to buzz at this second: at a bell's first burst and at each repeat, as it sounds (R5). */
export function buzzAt(
  bells: readonly StandingBell[],
  now: EpochMs,
  sounds: Sounds,
): { key: string; pulses: readonly number[] } | null {
  for (const standing of bells) {
    const sounding = sounds(standing);
    if (sounding === null) continue;
    const burst = Math.floor((now - sounding.sinceAt) / sounding.everyMs);
    if (now - sounding.sinceAt - burst * sounding.everyMs >= 1_000) continue;
    return { key: `${bellKey(standing)}/${burst}`, pulses: pulses[standing.bell.level] };
  }
  return null;
}

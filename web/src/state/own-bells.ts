import { muteKey, type Mutable } from '../../../core/bells/mute.ts';
import type { BellMeant } from '../../../core/bells/receipts.ts';
import type { Sounding } from '../../../core/bells/sounding.ts';
import type { SoundingBell } from '../sound/ringer-plan.ts';
import type { StandingBell } from './floor-mirror.svelte.ts';

/** The subject of a bell, as keys of mutes and sounds name it. */
function subjectKey({ visit, chair }: StandingBell): string {
  return visit?.id ?? (chair === null ? 'floor' : `chair/${chair}`);
}

/** A bell as a mute of this device knows it (R4). */
export function mutable(standing: StandingBell): Mutable {
  return { key: muteKey(subjectKey(standing), standing.bell), level: standing.bell.level };
}

/** A bell as its receipt names it (R7). */
export function meant({ bell: { cause, episode, level }, visit, chair }: StandingBell): BellMeant {
  return { visit: visit?.id ?? null, chair: visit === null ? chair : null, cause, episode, level };
}

/** A bell as this device's ringer knows it. */
export function ringing(standing: StandingBell, { sinceAt }: Sounding): SoundingBell {
  const { cause, episode, kind, level, taken } = standing.bell;
  // A bell that began here, unheard, is the same when the server tells it (R10); only one that sounds again is another.
  const again = taken === null ? '' : `${sinceAt}`;
  return { key: `${subjectKey(standing)}/${cause}/${episode}/${kind}/${level}/${again}`, level, sinceAt };
}

import { MINUTE, type EpochMs, type Ms } from '../time.ts';
import type { Bell } from './bell.ts';
import type { BellLevel } from './level.ts';

/** No mute is longer (R4). IEC 60601-1-8, 6.8.5 asks for no fixed limit, only that it is told; the figure is ours. */
export const muteLimit: Ms = 2 * MINUTE;

/** A bell that somebody wants quiet on one device for a moment. */
export interface Mutable {
  readonly key: string;
  readonly level: BellLevel;
}

/** One device is quiet for a while about what stood when it began (R4). */
export interface Mute {
  readonly fromAt: EpochMs;
  readonly untilAt: EpochMs;
  /** Keys by {@link muteKey} of the bells that stood at its start; none at DANGER. */
  readonly keys: readonly string[];
}

/**
 * What a mute means by "the same bell": a later episode, a louder level and the next row of a cause (`over` after `rinse`, also
 * at the same level) are other bells and sound. Subject: the visit, `chair/4` or `floor`.
 */
export function muteKey(subject: string, bell: Pick<Bell, 'cause' | 'episode' | 'kind' | 'level'>): string {
  return [subject, bell.cause, bell.episode, bell.kind, bell.level].join('/');
}

/** Begins a mute over the bells that stand now; a wish for longer than two minutes, or for none at all, is cut. */
export function beginMute(standing: readonly Mutable[], now: EpochMs, forMs: Ms = muteLimit): Mute {
  const keys = standing.filter(({ level }) => level !== 'DANGER').map(({ key }) => key);
  return { fromAt: now, untilAt: now + Math.min(muteLimit, Math.max(0, forMs)), keys: [...new Set(keys)].sort() };
}

/** It ends by itself; also when the clock has gone back before its start, for then nobody knows how long it has been. */
export function isMuting({ fromAt, untilAt }: Mute, now: EpochMs): boolean {
  return now >= fromAt && now < Math.min(untilAt, fromAt + muteLimit);
}

/** Whether this bell is without sound on the device of this mute now. It is shown all the same, and DANGER always sounds. */
export function mutes(mute: Mute | null, key: string, level: BellLevel, now: EpochMs): boolean {
  return mute !== null && level !== 'DANGER' && isMuting(mute, now) && mute.keys.includes(key);
}

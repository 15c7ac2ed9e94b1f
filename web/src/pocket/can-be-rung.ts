import type { SoundState } from '../sound/bell-player.ts';
import { CLOCK_LIMITS } from '../state/server-clock.ts';
import type { MyShift } from './my-shift.ts';

/** What somebody said of the last test: heard, not heard, or nothing yet. */
export type Heard = 'heard' | 'unheard' | 'untested';
export type Awake = 'held' | 'off' | 'absent';

export interface Reach {
  readonly person: string | null;
  readonly shift: MyShift['kind'];
  readonly sound: SoundState;
  readonly heard: Heard;
  readonly awake: Awake;
  /** The line to the server stands. */
  readonly linked: boolean;
  readonly silentForMs: number | null;
}

/** The server says something every two seconds: whoever has not heard it for longer does not know of new bells. */
export function isLinked({ linked, silentForMs }: Pick<Reach, 'linked' | 'silentForMs'>): boolean {
  return linked && silentForMs !== null && silentForMs < CLOCK_LIMITS.silentMs;
}

/**
 * Whether this phone, as it is now, would make a bell heard. Nothing is taken for granted: sound counts only once a
 * person said that they heard the test, and nobody is rung who is not on shift.
 */
export function canBeRung(reach: Reach): boolean {
  const { person, shift, sound, heard } = reach;
  return person !== null && shift === 'on' && sound === 'on' && heard === 'heard' && isLinked(reach);
}

/** The state of the sound in the terms of the panel: what was heard counts only while sound is on. */
export function soundSaid({ sound, heard }: Pick<Reach, 'sound' | 'heard'>): Exclude<SoundState, 'on'> | Heard {
  return sound === 'on' ? heard : sound;
}

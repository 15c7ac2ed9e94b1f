import type { SoundState } from '../sound/bell-player.ts';
import { SILENT_AFTER_MS } from '../chair/link-words.ts';

/** What somebody said of the last test: heard, not heard, or nothing yet. */
export type Heard = 'heard' | 'unheard' | 'untested';
export type Awake = 'held' | 'off' | 'absent';

export interface Reach {
  readonly person: string | null;
  readonly sound: SoundState;
  readonly heard: Heard;
  readonly awake: Awake;
  /** The line to the server stands. */
  readonly linked: boolean;
  readonly silentForMs: number | null;
}

/**
 * Whether this phone, as it is now, would make a bell heard. Nothing is taken for granted: sound counts only once a
 * person said that they heard the test, and a screen that may sleep is a phone that may not ring.
 */
export function canBeRung({ person, sound, heard, linked, silentForMs }: Reach): boolean {
  const line = linked && silentForMs !== null && silentForMs < SILENT_AFTER_MS;
  return person !== null && sound === 'on' && heard === 'heard' && line;
}

/** The state of the sound in the terms of the panel: what was heard counts only while sound is on. */
export function soundSaid({ sound, heard }: Pick<Reach, 'sound' | 'heard'>): Exclude<SoundState, 'on'> | Heard {
  return sound === 'on' ? heard : sound;
}

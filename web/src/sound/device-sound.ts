import type { Room } from '../../../core/salon/room.ts';
import type { Timers } from '../state/timers.ts';
import { browserAudio, claimPlayback } from './audio-port.ts';
import { BellPlayer, type SoundState } from './bell-player.ts';
import { loudnessOf } from './loudness.ts';
import type { SoundingBell } from './ringer-plan.ts';
import { Ringer } from './ringer.ts';
import { score } from './score.ts';
import { Speaker } from './speaker.ts';
import { browserSpeech } from './speech-port.ts';

interface Deps {
  /** A wall keeps its loudspeaker awake, and may speak. */
  readonly isWall: boolean;
  /** What the salon chose, asked at each burst. */
  readonly volume: () => Room['volume'];
  readonly locale: () => string;
  readonly now: () => number;
  readonly timers: Timers;
  readonly changed: (state: SoundState) => void;
}

/** All that one device makes heard: bursts, and on a wall sentences after them; never two at a time (R10). */
export class DeviceSound {
  readonly player: BellPlayer;
  readonly #ringer: Ringer;
  readonly #speaker: Speaker | null;

  constructor({ isWall, volume, locale, now, timers, changed }: Deps) {
    this.player = new BellPlayer({
      makeContext: browserAudio,
      gestures: window,
      timers,
      claim: () => claimPlayback(navigator),
      staysAwake: isWall,
    });
    this.#speaker = isWall ? new Speaker({ port: browserSpeech(), locale, now, timers }) : null;
    this.#ringer = new Ringer({
      play: (burst) => this.player.play(burst, loudnessOf(burst.level, volume())),
      now,
      timers,
      began: (burst) => this.#speaker?.burst(burst, score(burst.level).lengthMs),
    });
    this.player.subscribe((state) => {
      changed(state);
      if (state === 'on') this.#ringer.look();
      else this.#ringer.cutOff();
    });
  }

  /** What sounds from now on; muted ones included, so that they sound at once when the mute ends (R4). */
  sound(bells: readonly SoundingBell[]): void {
    this.#ringer.sound(bells);
    this.#speaker?.follow(bells);
  }
}

import { soundingOf } from '../../../core/bells/sounding.ts';
import type { Command } from '../../../core/command.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { StreamName } from '../../../shared/protocol.ts';
import type { TestBell } from '../../../shared/socket-events.ts';
import { browserAudio, claimPlayback } from '../sound/audio-port.ts';
import { BellPlayer, type SoundState } from '../sound/bell-player.ts';
import type { SoundingBell } from '../sound/ringer-plan.ts';
import { Ringer } from '../sound/ringer.ts';
import { clockTime, clockTimeToSecond, type ClockStyle } from '../words/clock-time.ts';
import { browserOutbox } from './browser-outbox.ts';
import { deviceId, handTo, heldBy } from './device.ts';
import { FloorMirror, type StandingBell } from './floor-mirror.svelte.ts';
import { browserKeep } from './keep.ts';
import { Link } from './link.svelte.ts';
import { chairNamed } from './lanes.ts';
import type { Outbox, ServerSight } from './outbox.svelte.ts';
import { Sender, type Sent } from './sender.svelte.ts';
import { Second } from './second.svelte.ts';
import { ServerClock } from './server-clock.ts';
import { browserTimers } from './timers.ts';

const clocks = { performanceNow: () => performance.now(), wallNow: () => Date.now() };

/** A bell asked for by the sound test: rings once, like any other. */
const TEST_FOR_MS = 1_000;

/** Everything a screen of the floor stands on: its mirror, its clock, its line to the server, its voice. */
export class Session {
  readonly mirror = new FloorMirror();
  readonly second: Second;
  readonly link: Link;
  /** What was touched on this device and has no outcome yet; shared by its pages. */
  readonly outbox: Outbox;
  readonly sender: Sender;
  readonly player: BellPlayer;
  /** Whether numbers drawn now may stand without a mark (V2). */
  confirmed = $state(false);
  silentForMs = $state<number | null>(null);
  sound = $state<SoundState>('locked');
  /** Who holds this device; null until somebody says so. */
  person = $state<string | null>(null);
  readonly #clock = new ServerClock(clocks);
  readonly #ringer: Ringer;
  readonly #keep = browserKeep();
  #tests: readonly SoundingBell[] = [];
  /** Which standing bells this screen sounds; null: none (nobody holds it). */
  readonly #sounds: (bell: StandingBell, session: Session) => boolean;

  constructor(stream: StreamName, sounds: (bell: StandingBell, session: Session) => boolean) {
    this.#sounds = sounds;
    this.person = heldBy(this.#keep);
    this.player = new BellPlayer({
      makeContext: browserAudio,
      gestures: window,
      timers: browserTimers,
      claim: () => claimPlayback(navigator),
    });
    this.#ringer = new Ringer({
      play: (score) => this.player.play(score),
      now: clocks.performanceNow,
      timers: browserTimers,
    });
    this.player.subscribe((state) => {
      this.sound = state;
      this.#ringer.look();
    });
    this.second = new Second(
      () => this.#clock.now(),
      browserTimers,
      (at) => this.#painted(at),
    );
    this.outbox = browserOutbox({
      server: () => this.#sight(),
      person: () => this.person,
      device: deviceId(this.#keep),
    });
    this.sender = new Sender(this.outbox, () => this.#sight().linked);
    this.link = new Link({
      stream,
      mirror: this.mirror,
      clock: this.#clock,
      clocks,
      timers: browserTimers,
      changed: () => this.second.refresh(),
      onTestBell: (bell) => this.#test(bell),
    });
    this.#followPage();
  }

  /** The second that all numbers of this screen are drawn for. */
  get now(): number {
    return this.second.current;
  }

  get style(): ClockStyle {
    const { zone, language, hourCycle } = this.mirror.salon;
    return { zone, locale: language === 'en' ? 'en-GB' : language, hours: hourCycle === 'h23' ? 24 : 12 };
  }

  /** A timescale instant as people read it (T2). */
  clock(at: number): string {
    return clockTime(at + this.link.civilOffsetMs, this.style);
  }

  clockToSecond(at: number): string {
    return clockTimeToSecond(at + this.link.civilOffsetMs, this.style);
  }

  /** Context for core's one number. */
  get context() {
    const { salon } = this.mirror;
    return { now: this.now, figures: salon.figures, uncertain: salon.uncertainSince !== null || !this.confirmed };
  }

  hold(person: string | null): void {
    this.person = person;
    handTo(this.#keep, person);
  }

  /** A touch about a visit carries the version this screen shows (S7). */
  about(visit: VisitFacts | null, command: Command, happenedAt: number | null = null): Promise<Sent> {
    const chair = visit?.chair ?? chairNamed(command);
    return this.sender.send(command, { seen: visit?.version ?? null, happenedAt, over: null, chair });
  }

  #sight(): ServerSight {
    const { mirror } = this;
    const { phase } = this.link;
    return {
      // Refused is of another version: it takes commands all the same.
      linked: phase === 'linked' || phase === 'refused',
      salon: mirror.revision < 0 ? null : (mirror.salon.setUpAt ?? 'none'),
      now: this.#clock.now(),
      timescale: this.#clock.timescale,
      revision: mirror.revision,
    };
  }

  #painted(at: number): void {
    this.confirmed = this.#clock.confirmed;
    this.silentForMs = this.#clock.silentForMs;
    this.outbox.look();
    this.#ringer.sound(this.#sounding());
    document.documentElement.dataset['second'] = String(at);
    document.documentElement.dataset['revision'] = String(this.mirror.revision);
    document.documentElement.dataset['confirmed'] = String(this.confirmed);
  }

  #sounding(): readonly SoundingBell[] {
    const now = this.#clock.now();
    const real = this.mirror.bells.flatMap((standing): SoundingBell[] => {
      const sounding = this.#sounds(standing, this) ? soundingOf(standing.bell, now) : null;
      if (sounding === null) return [];
      const { cause, episode, kind, level } = standing.bell;
      const key = `${standing.visit?.id ?? 'floor'}/${cause}/${episode}/${kind}/${level}/${sounding.sinceAt}`;
      return [{ key, level, sinceAt: sounding.sinceAt }];
    });
    return [...this.#tests, ...real];
  }

  #test({ level }: TestBell): void {
    const one: SoundingBell = { key: `test/${performance.now()}`, level, sinceAt: this.#clock.now() };
    this.#tests = [...this.#tests, one];
    this.#ringer.sound(this.#sounding());
    browserTimers.set(() => {
      this.#tests = this.#tests.filter((other) => other !== one);
    }, TEST_FOR_MS);
  }

  #followPage(): void {
    const back = (): void => {
      if (document.visibilityState === 'hidden') return;
      this.link.resume();
      this.second.refresh();
    };
    document.addEventListener('visibilitychange', back);
    window.addEventListener('pageshow', back);
    window.addEventListener('online', back);
    this.second.refresh();
  }
}

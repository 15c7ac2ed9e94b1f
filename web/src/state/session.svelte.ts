import { asks, heardAs } from '../../../core/bells/hearing.ts';
import type { BellMeant } from '../../../core/bells/receipts.ts';
import type { Ear, Sounding } from '../../../core/bells/sounding.ts';
import type { Command } from '../../../core/command.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { StreamName } from '../../../shared/protocol.ts';
import type { screenKinds, TestBell } from '../../../shared/socket-events.ts';
import type { BellPlayer, SoundState } from '../sound/bell-player.ts';
import { DeviceSound } from '../sound/device-sound.ts';
import type { SoundingBell } from '../sound/ringer-plan.ts';
import { clockTime, clockTimeToSecond, type ClockStyle } from '../words/clock-time.ts';
import type { HeadlineContext } from '../../../core/visit/headline.ts';
import { deviceStore } from './device-database.ts';
import { deviceId, handTo, heldBy } from './device.ts';
import { FloorMirror, type StandingBell } from './floor-mirror.svelte.ts';
import { browserKeep } from './keep.ts';
import { Link } from './link.svelte.ts';
import { KeptFloor } from './kept-floor.ts';
import type { Hands } from './hands.ts';
import { MuteSwitch } from './mute.svelte.ts';
import type { Outbox, ServerSight } from './outbox.svelte.ts';
import type { Sender, Sent } from './sender.svelte.ts';
import { meant, mutable, ringing } from './own-bells.ts';
import { Presence } from './presence.ts';
import { Second } from './second.svelte.ts';
import { ServerClock } from './server-clock.ts';
import { browserTimers } from './timers.ts';

const clocks = { performanceNow: () => performance.now(), wallNow: () => Date.now() };

/** A bell asked for by the sound test rings once, like any other, and stands until its sentence is said. */
const TEST_FOR_MS = 4_500;

type ScreenKind = (typeof screenKinds)[number];

/** Everything a screen of the floor stands on: its mirror, its clock, its line to the server, its voice. */
export class Session {
  readonly mirror = new FloorMirror();
  readonly second: Second;
  readonly link: Link;
  /** Whether numbers drawn now may stand without a mark (V2). */
  confirmed = $state(false);
  silentForMs = $state<number | null>(null);
  sound = $state<SoundState>('locked');
  /** Who holds this device; null until somebody says so. */
  person = $state<string | null>(null);
  readonly #clock = new ServerClock(clocks);
  readonly #voice: DeviceSound;
  /** On a wall: the sentence of a bell, of a test where null (W4). */
  says: ((standing: StandingBell | null) => string | null) | null = null;
  readonly #keep = browserKeep();
  readonly #keptFloor: KeptFloor;
  readonly mute: MuteSwitch;
  /** Whoever holds this device said that they heard its last test. */
  testHeard = $state(false);
  readonly #hands: Hands | null;
  readonly #presence: Presence;
  #tests: readonly SoundingBell[] = [];
  readonly #screen: ScreenKind | null;

  /** `screen` null: one that only shows, such as a sheet to print. `makeHands`: on a screen that people touch; null on a wall. */
  constructor(
    stream: StreamName,
    screen: ScreenKind | null,
    makeHands: ((deps: ConstructorParameters<typeof Hands>[0]) => Hands) | null = null,
  ) {
    this.#screen = screen;
    this.mute = new MuteSwitch(this.#keep, clocks);
    this.person = heldBy(this.#keep);
    this.#voice = new DeviceSound({
      isWall: screen === 'wall',
      volume: () => this.mirror.salon.room.volume,
      locale: () => this.style.locale,
      now: clocks.performanceNow,
      timers: browserTimers,
      changed: (state) => (this.sound = state),
    });
    this.second = new Second(
      () => this.#clock.now(),
      browserTimers,
      (at) => this.#painted(at),
    );
    const device = deviceId(this.#keep);
    this.link = new Link({
      stream,
      mirror: this.mirror,
      clock: this.#clock,
      clocks,
      timers: browserTimers,
      changed: () => this.second.refresh(),
      onTestBell: (bell) => this.#test(bell),
      onLinked: () => this.#presence.forget(),
      device,
    });
    this.#presence = new Presence({
      device,
      tellHere: (here) => this.link.tellHere(here),
      tellShown: (shown) => this.link.tellShown(shown),
      performanceNow: clocks.performanceNow,
    });
    this.#hands =
      makeHands?.({
        server: () => this.#sight(),
        person: () => this.person,
        device,
        mirror: this.mirror,
        unheard: () => this.link.unheard,
      }) ?? null;
    if (this.#hands !== null) this.mirror.foresee = this.#hands.foresee;
    this.#keptFloor = new KeptFloor({
      stream,
      store: deviceStore(),
      mirror: this.mirror,
      clock: this.#clock,
      link: this.link,
      wallNow: clocks.wallNow,
      changed: () => this.second.refresh(),
    });
    this.#followPage();
  }

  get player(): BellPlayer {
    return this.#voice.player;
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

  /** What time it is now; with a mark while nobody knows (T3). */
  get clockNow(): string {
    return this.clock(this.now) + (this.mirror.salon.uncertainSince === null ? '' : '?');
  }

  clockToSecond(at: number): string {
    return clockTimeToSecond(at + this.link.civilOffsetMs, this.style);
  }

  /** Context for core's one number. */
  get context(): HeadlineContext {
    return this.contextOf(null);
  }

  /** The same for one head: unconfirmed also while something touched here has not reached the server (V2). */
  contextOf(visit: VisitFacts | null): HeadlineContext {
    const { salon, unsettled } = this.mirror;
    const here = visit !== null && unsettled.has(visit.id);
    return {
      now: this.now,
      figures: salon.figures,
      uncertain: salon.uncertainSince !== null || !this.confirmed || here,
    };
  }

  get outbox(): Outbox {
    return this.#touched.outbox;
  }

  get sender(): Sender {
    return this.#touched.sender;
  }

  get #touched(): Hands {
    if (this.#hands === null) throw new Error('nobody touches this screen');
    return this.#hands;
  }

  hold(person: string | null): void {
    this.person = person;
    handTo(this.#keep, person);
  }

  /** A touch about a visit carries the version this screen shows (S7). */
  about(visit: VisitFacts | null, command: Command, happenedAt: number | null = null): Promise<Sent> {
    return this.#touched.about(visit, command, happenedAt);
  }

  #sight(): ServerSight {
    const { mirror } = this;
    const { phase } = this.link;
    return {
      // Refused is of another version: it takes commands all the same.
      linked: phase === 'linked' || phase === 'refused',
      salon: mirror.revision < 0 ? null : (mirror.salon.setUpAt ?? 'none'),
      now: this.#clock.now(),
      timescale: this.#clock.timescale ?? this.#keptFloor?.timescale ?? null,
      revision: mirror.revision,
    };
  }

  #painted(at: number): void {
    if (this.#clock.takeSlept()) this.link.resume(true);
    this.confirmed = this.#clock.confirmed && this.link.phase === 'linked';
    this.silentForMs = this.#clock.silentForMs;
    this.#hands?.look();
    this.mirror.aloneAt = this.link.unheard ? at : null;
    this.#keptFloor.look();
    this.mute.look(at);
    this.#voice.sound(this.#sounding());
    this.#tellPresence();
    document.documentElement.dataset['second'] = String(at);
    document.documentElement.dataset['revision'] = String(this.mirror.revision);
    document.documentElement.dataset['confirmed'] = String(this.confirmed);
  }

  #sounding(): readonly SoundingBell[] {
    const now = this.#clock.now();
    const real = this.mirror.bells.flatMap((standing): SoundingBell[] => {
      const sounding = this.#heard(standing, now);
      if (sounding === null) return [];
      // A muted one is named, so that it sounds at once when the mute ends.
      const { key, level } = mutable(standing);
      const said = this.says?.(standing) ?? null;
      return [{ ...ringing(standing, sounding), muted: this.mute.mutes(key, level, now), said }];
    });
    return [...this.#tests, ...real];
  }

  /** Whose ears this device is; null where it rings for nobody. A chair's tablet is looked at by whoever stands there. */
  get ear(): Ear | null {
    if (this.#screen === 'wall') return 'room';
    return this.#screen === 'pocket' ? this.person : null;
  }

  /** Whether a bell asks whoever this device is for (R6). */
  asked({ bell, rung }: StandingBell, now: number = this.now): boolean {
    return this.ear !== null && asks(bell, rung, this.ear, this.mirror.staff, now);
  }

  /** How a bell sounds on this device now; null when it is only shown, is muted here, or asks others (R3, R4). */
  sounds(standing: StandingBell, now: number = this.now): Sounding | null {
    const { key, level } = mutable(standing);
    return this.mute.mutes(key, level, now) ? null : this.#heard(standing, now);
  }

  #heard({ bell, rung }: StandingBell, now: number): Sounding | null {
    return this.ear === null ? null : heardAs(bell, rung, this.ear, this.mirror.staff, now);
  }

  /** Quiet on this device for a moment about what stands now (R4). */
  muteStanding(forMs?: number): void {
    this.mute.start(this.mirror.bells.map(mutable), this.now, forMs);
    this.second.refresh();
  }

  #tellPresence(): void {
    if (this.#screen === null) return;
    const seen = document.visibilityState === 'visible';
    const { person, sound, testHeard: heard } = this;
    const mutedUntil = this.mute.current?.untilAt ?? null;
    this.#presence.look({ screen: this.#screen, person, sound, heard, seen, mutedUntil }, this.#shown());
  }

  /** Bells that ask whoever holds this phone and stand on its screen now (R7). */
  #shown(): readonly BellMeant[] {
    if (this.#screen !== 'pocket') return [];
    return this.mirror.bells.filter((one) => one.bell.level !== 'NOTICE' && this.asked(one)).map(meant);
  }

  #test({ level }: TestBell): void {
    const said = this.says?.(null) ?? null;
    const one: SoundingBell = { key: `test/${performance.now()}`, level, sinceAt: this.#clock.now(), said };
    this.#tests = [...this.#tests, one];
    this.#voice.sound(this.#sounding());
    browserTimers.set(() => {
      this.#tests = this.#tests.filter((other) => other !== one);
    }, TEST_FOR_MS);
  }

  #followPage(): void {
    const back = (frozen: boolean): void => {
      if (document.visibilityState === 'hidden') return;
      // A page that was put away whole has connections that only look alive.
      this.link.resume(this.#clock.takeSlept() || frozen);
      void this.player.revive();
      this.second.refresh();
    };
    document.addEventListener('visibilitychange', () => back(false));
    window.addEventListener('pageshow', ({ persisted }) => back(persisted));
    document.addEventListener('resume', () => back(true));
    window.addEventListener('online', () => back(false));
    window.addEventListener('pagehide', () => this.#keptFloor.keepNow());
    this.second.refresh();
  }
}

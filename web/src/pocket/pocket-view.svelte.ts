import { heardAs } from '../../../core/bells/hearing.ts';
import type { SalonCommand } from '../../../core/salon/commands.ts';
import type { PersonId, PlaceNumber } from '../../../core/ids.ts';
import type { Ms } from '../../../core/time.ts';
import { TouchGate, UrgentGate } from '../parts/geometry/touch.ts';
import { shell } from '../shell/registration.svelte.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import { browserKeep } from '../state/keep.ts';
import { deviceId } from '../state/device.ts';
import { browserPush } from '../reach/browser-push.ts';
import { PushSubscription } from '../reach/push-subscription.svelte.ts';
import { browserTimers } from '../state/timers.ts';
import { buzzAt } from './buzz.ts';
import { canBeRung, type Heard, type Reach } from './can-be-rung.ts';
import { headsOf } from './due-order.ts';
import { HandOvers } from './hand-overs.svelte.ts';
import { coveredBy, shiftOf, type MyShift } from './my-shift.ts';
import { owing } from './owed-list.ts';
import { bellKey, besides, onScreen, ringTogether, type Holder } from './ringing.ts';
import { noticesNow, secondsLeft, type Notices, type Told } from './ring-lines.ts';
import { thisPhone } from './this-phone.ts';
import { WakeLock } from './wake-lock.svelte.ts';

export type PocketPage = 'heads' | 'reach' | 'owed' | 'kept' | 'me';

type OwnCommand = Extract<SalonCommand, { type: 'BeginShift' | 'EndShift' | 'GoAway' | 'ComeBack' }>;
const ownCommands: readonly string[] = ['BeginShift', 'EndShift', 'GoAway', 'ComeBack'] satisfies OwnCommand['type'][];

/** One phone: who holds it, whether it can be rung, what it shows. */
export class PocketView {
  readonly session: Session;
  readonly gate = new TouchGate();
  readonly waterGate = new UrgentGate(this.gate);
  readonly wake: WakeLock;
  readonly handOvers: HandOvers;
  readonly push: PushSubscription;
  readonly phone = thisPhone();
  page = $state<PocketPage>('heads');
  opened = $state<PlaceNumber | null>(null);
  heard = $state<Heard>('untested');
  /** A test was rung and nobody has said yet whether it was heard. */
  asking = $state(false);
  testFailed = $state(false);
  /** Bells folded into a line while their holder does something else on this phone; they go on ringing. */
  folded = $state.raw<readonly string[]>([]);
  /** Who held this phone before "Not you?": their shift goes on without it. */
  left = $state<PersonId | null>(null);
  #buzzed = '';

  /** The holder, as long as the salon knows them. */
  readonly person: PersonId | null = $derived.by(() => {
    const { person, mirror } = this.session;
    const gone = mirror.revision >= 0 && !mirror.people.some(({ facts }) => facts.id === person);
    return gone ? null : person;
  });
  readonly shift: MyShift = $derived.by(() =>
    shiftOf(this.person === null ? undefined : this.session.mirror.staff[this.person], this.session.now),
  );
  readonly covered = $derived.by(() => coveredBy(this.person, this.session.mirror.staff, this.session.now));
  readonly visits = $derived.by(() => this.session.mirror.visits.map(({ facts }) => facts));
  readonly heads = $derived.by(() => {
    const { mirror, context } = this.session;
    return headsOf(
      this.person,
      mirror.chairs,
      context,
      mirror.bells,
      this.covered.map(({ id }) => id),
    );
  });
  readonly ringing = $derived.by(() => {
    const { bells } = this.session.mirror;
    // While somebody is asked whether they heard the test, that answer is what ends "nobody reached".
    const some = this.asking ? bells.filter(({ bell }) => bell.kind !== 'nobody-reached') : bells;
    return onScreen(some, this.holder, this.folded);
  });
  readonly besides = $derived.by(() => {
    const shown = this.opened !== null && this.ringing?.going ? null : this.ringing;
    return besides(this.session.mirror.bells, this.holder, shown);
  });
  readonly owed = $derived.by(() => owing(this.visits));
  readonly reach: Reach = $derived.by(() => ({
    person: this.person,
    shift: this.shift.kind,
    sound: this.session.sound,
    heard: this.heard,
    awake: this.wake.current,
    linked: this.session.link.phase === 'linked',
    silentForMs: this.session.silentForMs,
  }));
  /** Asked of the browser, which tells of no change; push tells when it has asked. */
  readonly notices: Notices = $derived.by(() => {
    void this.push.state;
    return noticesNow();
  });
  /** Seconds for which this phone is quiet about what stood; null when it is not. */
  readonly mutedFor = $derived.by(() => secondsLeft(this.session.mute.current?.untilAt ?? null, this.session.now));
  readonly told: Told = $derived.by(() => ({
    ...this.reach,
    vibrates: this.phone.vibrates,
    notices: this.notices,
    push: this.push.state,
    opensAlone: shell.opensAlone,
    mutedForMs: this.mutedFor === null ? null : this.mutedFor * 1_000,
    seenAs: this.session.link.reach?.people.find(({ person }) => person === this.person)?.how ?? null,
  }));
  readonly canBeRung = $derived.by(() => canBeRung(this.reach));
  /** Refused touches about shift and absence: they belong to no head. */
  readonly refusals = $derived.by(() =>
    this.session.sender.sent.flatMap((one) =>
      one.outcome === 'refused' && ownCommands.includes(one.command.type) ? [one] : [],
    ),
  );

  constructor(session: Session) {
    this.session = session;
    this.wake = new WakeLock({ lock: navigator.wakeLock ?? null, page: document, timers: browserTimers });
    this.handOvers = new HandOvers(session);
    const keep = browserKeep();
    const browser = browserPush(this.phone.make === 'apple' && !this.phone.installed);
    this.push = new PushSubscription(deviceId(keep), browser, { keep, timers: browserTimers });
    if (session.person !== null) this.wake.hold();
  }

  get holder(): Holder {
    return { person: this.person, asked: (one) => this.session.asked(one), rings: this.rings };
  }

  /** Whether a bell rings for the holder, muted here or not: a mute hides nothing (R4). */
  readonly rings = ({ bell, rung }: StandingBell): boolean => {
    const { mirror, now } = this.session;
    return this.person !== null && heardAs(bell, rung, this.person, mirror.staff, now) !== null;
  };

  /** Something else than the list is on the screen, which would be gone if the page opened itself anew. */
  get busy(): boolean {
    return this.opened !== null || this.page !== 'heads' || this.asking || this.ringing !== null;
  }

  /** One touch: who holds it, their shift, sound on, and a test on the very path of a bell. */
  choose(person: PersonId): void {
    const { mirror, now } = this.session;
    this.session.hold(person);
    this.left = null;
    this.#unheard();
    this.wake.hold();
    if (shiftOf(mirror.staff[person], now).kind !== 'on') this.#say({ type: 'BeginShift', person });
    void this.test();
  }

  /** The same for whoever holds it already. */
  beginShift(): void {
    if (this.person === null) return;
    this.wake.hold();
    this.#say({ type: 'BeginShift', person: this.person });
    if (!(this.session.sound === 'on' && this.heard === 'heard')) void this.test();
  }

  endShift(person: PersonId): void {
    this.#say({ type: 'EndShift', person });
    if (this.left === person) this.left = null;
    if (person !== this.person) return;
    this.wake.letGo();
    this.page = 'heads';
  }

  goAway(forMs: Ms, cover: PersonId | null): void {
    if (this.person === null) return;
    this.#say({ type: 'GoAway', person: this.person, forMs, cover });
    this.page = 'heads';
  }

  comeBack(): void {
    if (this.person !== null) this.#say({ type: 'ComeBack', person: this.person });
  }

  /**
   * Somebody else takes the phone. The shift of whoever held it goes on, for they may hold another phone, and a shift that ended by
   * the way would leave their heads to nobody; it is one touch away on the page that follows.
   */
  notMe(): void {
    this.left = this.shift.kind === 'off' ? null : this.person;
    this.session.hold(null);
    // Pushes are for whoever turned them on here: they would reach a hand that is not theirs any more.
    if (['subscribed', 'testing', 'confirmed'].includes(this.push.state)) void this.push.turnOff();
    this.#unheard();
    this.wake.letGo();
    this.asking = false;
    this.page = 'heads';
    this.opened = null;
    this.folded = [];
  }

  async test(): Promise<void> {
    this.testFailed = false;
    this.asking = true;
    await this.session.player.unlock();
    this.testFailed = !(await this.session.link.testBell({ level: 'CAUTION' }));
  }

  answer(heard: boolean): void {
    this.heard = heard ? 'heard' : 'unheard';
    this.session.testHeard = heard;
    this.asking = !heard;
  }

  /** "I'll go": one person for all that rings at that head. */
  take({ visit, ...standing }: StandingBell): void {
    // Whatever head was open before: the one to go to is this.
    this.opened = null;
    const chair = visit === null ? standing.chair : null;
    for (const cause of ringTogether({ visit, ...standing }, this.rings)) {
      void this.session.about(visit, { type: 'TakeBell', visit: visit?.id ?? null, chair, cause });
    }
  }

  /** "Can't, pass on": whoever says so is not asked again. DANGER is everybody's, and cannot be passed on (R3). */
  pass({ visit, bell, ...standing }: StandingBell): void {
    const chair = visit === null ? standing.chair : null;
    const causes = ringTogether({ visit, bell, ...standing }, this.rings);
    const level = (cause: string) => (visit?.bells ?? [bell]).find((one) => one.cause === cause)?.level;
    for (const cause of causes.filter((one) => level(one) !== 'DANGER')) {
      void this.session.about(visit, { type: 'PassBell', visit: visit?.id ?? null, chair, cause });
    }
  }

  /** Opens a head, whatever fills the screen: that becomes a line, and goes on ringing. */
  open(number: PlaceNumber): void {
    this.#fold(number);
    this.opened = number;
  }

  go(page: PocketPage): void {
    this.#fold(null);
    this.opened = null;
    this.page = page;
  }

  /** What was folded fills the screen again; what does not ring is shown at its head. */
  unfold(standing: StandingBell): void {
    const key = bellKey(standing);
    const going = standing.bell.taken?.by === this.person;
    if (going || this.rings(standing)) {
      this.folded = this.folded.filter((one) => one !== key);
      if (going) this.opened = null;
    } else if (standing.chair !== null) this.opened = standing.chair;
  }

  /** Ends the quiet of this phone. */
  sound(): void {
    this.session.mute.end();
    this.session.second.refresh();
  }

  /** Buzzes once with each burst of a bell, if the phone can. */
  buzz(): void {
    const { mirror, now } = this.session;
    const burst = this.person === null ? null : buzzAt(mirror.bells, now, (one) => this.session.sounds(one));
    if (burst === null || burst.key === this.#buzzed) return;
    this.#buzzed = burst.key;
    if (this.phone.vibrates) navigator.vibrate([...burst.pulses]);
  }

  #unheard(): void {
    this.heard = 'untested';
    this.session.testHeard = false;
  }

  /** All of the head that fills the screen, and of the one that is opened. */
  #fold(opened: PlaceNumber | null): void {
    const shown = this.ringing?.standing ?? null;
    const keys = this.session.mirror.bells
      .filter((one) => one === shown || (one.chair !== null && (one.chair === opened || one.chair === shown?.chair)))
      .map(bellKey);
    this.folded = [...this.folded.filter((key) => !keys.includes(key)), ...keys].slice(-100);
  }

  /** What is so already needs no reading. */
  #say(command: OwnCommand): void {
    void this.session.about(null, command).then((sent) => {
      if (sent.outcome === 'refused' && sent.problem.code === 'already-done') this.session.sender.dismiss(sent.id);
    });
  }
}

import type { PersonId, PlaceNumber } from '../../../core/ids.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { TouchGate, UrgentGate } from '../parts/geometry/touch.ts';
import type { Session } from '../state/session.svelte.ts';
import { browserTimers } from '../state/timers.ts';
import { buzzAt } from './buzz.ts';
import { canBeRung, type Heard, type Reach } from './can-be-rung.ts';
import { headsOf } from './due-order.ts';
import { owing } from './owed-list.ts';
import { bellKey, onScreen, type Sounds } from './ringing.ts';
import { WakeLock } from './wake-lock.svelte.ts';

export type PocketPage = 'heads' | 'reach' | 'owed' | 'kept';

/** One phone: who holds it, whether it can be rung, what it shows. */
export class PocketView {
  readonly session: Session;
  readonly gate = new TouchGate();
  readonly waterGate = new UrgentGate(this.gate);
  readonly wake: WakeLock;
  page = $state<PocketPage>('heads');
  opened = $state<PlaceNumber | null>(null);
  heard = $state<Heard>('untested');
  /** A test was rung and nobody has said yet whether it was heard. */
  asking = $state(false);
  testFailed = $state(false);
  /** Bells put aside on this phone: "not me". */
  aside = $state.raw<readonly string[]>([]);
  readonly sounds: Sounds = (standing) => this.session.sounds(standing);
  readonly canBuzz = typeof navigator.vibrate === 'function';
  #buzzed = '';

  /** The holder, as long as the salon knows them. */
  readonly person: PersonId | null = $derived.by(() => {
    const { person, mirror } = this.session;
    const gone = mirror.revision >= 0 && !mirror.people.some(({ facts }) => facts.id === person);
    return gone ? null : person;
  });
  readonly heads = $derived.by(() => headsOf(this.person, this.session.mirror.chairs, this.session.context));
  readonly ringing = $derived.by(() => onScreen(this.session.mirror.bells, this.person, this.aside, this.sounds));
  readonly owed = $derived.by(() => owing(this.session.mirror.visits.map(({ facts }) => facts)));
  readonly reach: Reach = $derived.by(() => ({
    person: this.person,
    sound: this.session.sound,
    heard: this.heard,
    awake: this.wake.current,
    linked: this.session.link.phase === 'linked',
    silentForMs: this.session.silentForMs,
  }));
  readonly canBeRung = $derived.by(() => canBeRung(this.reach));

  /** Something else than the list is on the screen, which would be gone if the page opened itself anew. */
  get busy(): boolean {
    return this.opened !== null || this.page !== 'heads' || this.asking || this.ringing !== null;
  }

  constructor(session: Session) {
    this.session = session;
    this.wake = new WakeLock({ lock: navigator.wakeLock ?? null, page: document, timers: browserTimers });
    if (session.person !== null) this.wake.hold();
  }

  /** One touch: who holds it, sound on, and a test on the very path of a bell. */
  choose(person: PersonId): void {
    this.session.hold(person);
    this.heard = 'untested';
    this.wake.hold();
    void this.test();
  }

  notMe(): void {
    this.session.hold(null);
    this.heard = 'untested';
    this.asking = false;
    this.page = 'heads';
    this.opened = null;
  }

  async test(): Promise<void> {
    this.testFailed = false;
    this.asking = true;
    await this.session.player.unlock();
    this.testFailed = !(await this.session.link.testBell({ level: 'CAUTION' }));
  }

  answer(heard: boolean): void {
    this.heard = heard ? 'heard' : 'unheard';
    this.asking = !heard;
  }

  /** The head is opened instead: no other bell of it comes before it. */
  putHeadAside(visit: VisitFacts): void {
    const keys = visit.bells.map((bell) => bellKey({ bell, visit, chair: visit.chair }));
    this.aside = [...this.aside, ...keys].slice(-100);
  }

  putAside(): void {
    if (this.ringing !== null) this.aside = [...this.aside, bellKey(this.ringing.standing)].slice(-100);
  }

  /** Buzzes once with each burst of a bell, if the phone can. */
  buzz(): void {
    const burst = this.person === null ? null : buzzAt(this.session.mirror.bells, this.session.now, this.sounds);
    if (burst === null || burst.key === this.#buzzed) return;
    this.#buzzed = burst.key;
    if (this.canBuzz) navigator.vibrate([...burst.pulses]);
  }
}

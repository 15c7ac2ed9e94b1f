import type { Bell } from '../../../core/bells/bell.ts';
import { audienceOf, nobodys } from '../../../core/bells/circles.ts';
import { ownerOf } from '../../../core/bells/subject.ts';
import type { Command } from '../../../core/command.ts';
import type { PlaceNumber, VisitId } from '../../../core/ids.ts';
import { partClocks } from '../../../core/exposure/part-clock.ts';
import { MINUTE, type EpochMs } from '../../../core/time.ts';
import { headline, headlineFigure, type HeadlineContext } from '../../../core/visit/headline.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';
import { CHANGED_DEAF_MS, TAKE_BACK_MS, TouchGate, UrgentGate } from '../parts/geometry/touch.ts';
import type { Sent } from '../state/sender.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import { hairClock, hairWindow } from './hair-window.ts';
import type { Moment } from './moments.ts';
import { nextActs, partDone, plainWater, type Act } from './next-act.ts';
import { loudestBell } from './standing-bell.ts';

/** What lies open over the reading: one thing at a time. Water on and burns keep their places beside all of them. */
export type Panel =
  | 'seat'
  | 'change'
  | 'services'
  | 'earlier'
  | 'burns'
  | 'more'
  | 'move'
  | 'leave'
  | 'done'
  | 'correct'
  | 'owed'
  | 'strip'
  | 'part'
  | 'helper'
  | 'test'
  | 'limits'
  | 'kept';

/** One chair as its screen has it: who is there, what comes next, what lies open. */
export class HeadView {
  readonly session: Session;
  readonly number: PlaceNumber;
  /** Shared by all buttons but water on and burns (W3). */
  readonly gate = new TouchGate();
  readonly waterGate = new UrgentGate(this.gate);
  readonly burnsGate = new UrgentGate(this.gate);
  panel = $state<Panel | null>(null);
  /** What "earlier" or a strip is about; what is being corrected. */
  chosen = $state.raw<Act | null>(null);
  correcting = $state.raw<Moment | null>(null);
  /** The part that was touched on the map to say when it was done. */
  part = $state<number | null>(null);
  /** The client who left with product on from this screen: their sheet is offered. */
  leftWith = $state<VisitId | null>(null);

  readonly chair = $derived.by(() => this.session.mirror.chairs.find((one) => one.number === this.number) ?? null);
  readonly visit: VisitFacts | null = $derived.by(() => this.chair?.visit ?? null);
  readonly pass = $derived.by(() => (this.visit === null ? null : currentPass(this.visit)));
  readonly at = $derived.by(() => ({
    chair: this.number,
    visit: this.visit,
    usualService: this.session.mirror.salon.usualService,
    basins: this.session.mirror.basins,
  }));
  readonly acts = $derived.by(() => nextActs(this.at));
  readonly bell = $derived.by(() => loudestBell(this.visit));
  /** Help that this chair asks for, whoever sits there; and its bell. */
  readonly help = $derived.by(() => {
    const place = this.session.mirror.entities[`place/${this.number}`];
    return place?.kind === 'place' ? place.facts.help : null;
  });
  readonly helpBell: Bell | null = $derived.by(() => {
    const here = this.session.mirror.bells.filter((one) => one.visit === null && one.chair === this.number);
    return here[0]?.bell ?? null;
  });
  /** It itches or tingles, and nobody has said what it was. */
  readonly tingles = $derived.by(() => {
    const { visit } = this;
    return visit !== null && visit.tingles !== null && visit.tingles.answered === null && visit.stage !== 'finished';
  });
  readonly line = $derived.by(() => (this.visit === null ? null : headline(this.visit, this.context)));
  /** Back to the rinse there is nothing to wait for: the minimum of the shampoo is not that deed's number (V1). */
  readonly figure = $derived.by(() =>
    this.line === null || this.bell?.kind === 'back-to-rinse' ? null : headlineFigure(this.line, this.session.now),
  );
  readonly window = $derived.by(() => (this.visit === null ? null : hairWindow(this.visit, this.context)));
  readonly hair = $derived.by(() => (this.visit === null ? null : hairClock(this.visit, this.context)));
  /** Parts of the head, while product is on it and the plan is known; empty where no map is drawn. */
  readonly clocks = $derived.by(() => {
    const on = this.visit?.stage === 'apply' || this.visit?.stage === 'process';
    const { now, figures } = this.context;
    return !on || this.pass === null || this.pass.begun === null || this.burns !== null
      ? []
      : partClocks(this.pass, now, figures.waterSureMs);
  });
  readonly places = $derived.by(() => (this.pass?.rules?.parts ?? []).map(({ place }) => place));
  /** Burns that nobody has closed yet. */
  readonly burns = $derived.by(() => {
    const burns = this.visit?.burns ?? null;
    return burns !== null && burns.closed === null && this.visit?.stage !== 'finished' ? burns : null;
  });
  /** A strand test is due: it is the deed, so that the main button opens it and water on keeps its own place (V1). */
  readonly testDue = $derived.by(
    () => this.line?.deed === 'test' && (this.visit?.bells.some((bell) => bell.cause === 'test') ?? false),
  );
  /** Water is what the main button does, so that it needs no second place. */
  readonly waterIsMain = $derived.by(
    () => this.panel === null && !this.testDue && this.acts.main[0]?.name === 'water-on',
  );
  /** Touches about this head that are under way, not through, or refused. */
  readonly sent: readonly Sent[] = $derived.by(() => this.session.sender.about(this.visit?.id ?? null, this.number));
  /** The visit whose last move the bar offers to take back: the one here, or the one that just ended here. */
  readonly lately: VisitFacts | null = $derived.by(() => this.visit ?? this.#justEnded());

  #said = '';
  #saidAt = Number.NEGATIVE_INFINITY;

  constructor(session: Session, number: PlaceNumber) {
    this.session = session;
    this.number = number;
  }

  /** Context for core's numbers of this head (V2). */
  get context(): HeadlineContext {
    return this.session.contextOf(this.visit);
  }

  /** Whether anybody is here whom a bell of this chair asks (R6). */
  asksSomebody(bell: Bell): boolean {
    const owner = bell === this.helpBell || this.visit === null ? nobodys : ownerOf(this.visit);
    return audienceOf(bell, owner, this.session.mirror.staff, this.session.now).length > 0;
  }

  get water(): Act {
    return plainWater(this.at);
  }

  open(panel: Panel, chosen: Act | null = null): void {
    this.chosen = chosen;
    this.panel = panel;
  }

  close(): void {
    this.panel = null;
    this.chosen = null;
    this.correcting = null;
    this.part = null;
  }

  /** What the main button says now. When that changes, whoever changed it, a finger may already be on its way to what it said before. */
  shows(said: string): void {
    if (said === this.#said) return;
    this.#said = said;
    this.#saidAt = performance.now();
  }

  /** A part that was touched on the map: done now, or, once application is over, when it was done (X3). */
  touchPart(part: number): void {
    if (this.visit === null) return;
    if (this.visit.stage === 'apply') {
      this.say(partDone(this.visit, part).command);
      return;
    }
    this.part = part;
    this.open('part');
  }

  /** Does what a button says; a strip is read first. */
  act(act: Act, minutesAgo = 0): void {
    if (performance.now() - this.#saidAt < CHANGED_DEAF_MS) return;
    if (act.name === 'shampoo' && act.proof === 'strip') {
      this.open('strip', act);
      return;
    }
    this.say(act.command, minutesAgo);
  }

  say(command: Command, minutesAgo = 0): void {
    // The same touch again, while the first is on its way, would only be told "already done".
    if (minutesAgo === 0 && this.underWay(command)) return;
    const happenedAt = minutesAgo === 0 ? null : this.session.now - minutesAgo * MINUTE;
    this.close();
    void this.session.about(this.visit, command, happenedAt);
  }

  /** The same, at a moment that was chosen. */
  sayAt(command: Command, happenedAt: EpochMs | null): void {
    this.close();
    void this.session.about(this.visit, command, happenedAt);
  }

  /** Water on and burns are sent at each touch, whatever is under way. */
  urgent(command: Command): void {
    this.close();
    void this.session.about(this.visit, command);
  }

  underWay(command: Command): boolean {
    return this.sent.some((one) => one.outcome !== 'refused' && same(one.command, command));
  }

  /** Whether that touch has failed to get through at least once. */
  trying(command: Command): boolean {
    return this.sent.some((one) => one.outcome === 'trying' && same(one.command, command));
  }

  #justEnded(): VisitFacts | null {
    const { mirror, now } = this.session;
    const ended = mirror.visits
      .map(({ facts }) => facts)
      .filter((facts) => facts.chair === this.number && facts.stage === 'finished' && facts.lastMove !== null)
      .filter((facts) => now - (facts.lastMove?.recordedAt ?? 0) < TAKE_BACK_MS)
      .sort((a, b) => (b.lastMove?.recordedAt ?? 0) - (a.lastMove?.recordedAt ?? 0));
    return ended[0] ?? null;
  }
}

function same(a: Command, b: Command): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

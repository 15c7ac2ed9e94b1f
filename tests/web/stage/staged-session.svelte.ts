import { asks, heardAs } from '../../../core/bells/hearing.ts';
import type { Ear, Sounding } from '../../../core/bells/sounding.ts';
import type { Command } from '../../../core/command.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { problemOf } from '../../../shared/problem.ts';
import type { ReachTold } from '../../../shared/wire.ts';
import { FloorMirror, type StandingBell } from '../../../web/src/state/floor-mirror.svelte.ts';
import { chairNamed } from '../../../web/src/state/lanes.ts';
import { MuteSwitch } from '../../../web/src/state/mute.svelte.ts';
import type { Outbox } from '../../../web/src/state/outbox.svelte.ts';
import { mutable } from '../../../web/src/state/own-bells.ts';
import type { Sent } from '../../../web/src/state/sender.svelte.ts';
import type { Session } from '../../../web/src/state/session.svelte.ts';
import { clockTime, clockTimeToSecond } from '../../../web/src/words/clock-time.ts';
import { entitiesOf } from '../../support/entities.ts';
import { NOON, type FloorLife } from '../../support/floor-life.ts';

/**
 * A session without a server for looking at screens: the floor of a FloorLife at its hand-driven now. Touches go to the
 * same core, so that a staged screen can be worked. Pass it where a screen takes its session.
 */
export class StagedSession {
  readonly mirror = new FloorMirror();
  now = $state(NOON);
  confirmed = $state(true);
  silentForMs = $state<number | null>(1_000);
  sound = $state<Session['sound']>('on');
  person = $state<string | null>(null);
  link = $state({
    phase: 'linked' as const,
    unsaved: false,
    civilOffsetMs: 0,
    keptAt: null as number | null,
    reach: null as ReachTold | null,
    resume: () => undefined,
    testBell: async () => true,
  });
  readonly sender = this.#sender();
  /** What a device keeps of other versions, or cannot keep; a scene may say. */
  readonly outbox = $state<Pick<Outbox, 'unreadable' | 'foreign' | 'trouble'>>({
    unreadable: [],
    foreign: [],
    trouble: null,
  });
  readonly second = { refresh: (): void => undefined };
  readonly mute = new MuteSwitch(
    { read: () => null, write: () => undefined },
    { performanceNow: () => this.now, wallNow: () => this.now },
  );
  testHeard = $state(false);
  /** Whose ears it is: of whoever holds it, unless a scene says otherwise. */
  ears: Ear | null | undefined = undefined;
  readonly player = { unlock: async (): Promise<Session['sound']> => this.sound };
  /** Touches refused or not through; a scene may put some here. */
  refused = $state.raw<readonly Sent[]>([]);
  readonly life: FloorLife;
  private touches = 0;

  constructor(life: FloorLife) {
    this.life = life;
    this.show();
  }

  #sender() {
    const sent = (): readonly Sent[] => this.refused;
    return {
      get sent() {
        return sent();
      },
      about: (_visit: unknown, chair: number): readonly Sent[] => sent().filter((one) => one.chair === chair),
      dismiss: (id: string): void => {
        this.refused = this.refused.filter((one) => one.id !== id);
      },
    };
  }

  /** Shows the floor as it is at the life's now. */
  show(): void {
    this.mirror.heard = entitiesOf(this.life.floor);
    this.mirror.revision = this.life.log.length;
    this.now = Math.floor(this.life.now / 1000) * 1000;
  }

  get ear(): Ear | null {
    return this.ears === undefined ? this.person : this.ears;
  }

  asked({ bell, rung }: StandingBell, now = this.now): boolean {
    return this.ear !== null && asks(bell, rung, this.ear, this.mirror.staff, now);
  }

  sounds(standing: StandingBell, now = this.now): Sounding | null {
    if (this.ear === null) return null;
    const { key, level } = mutable(standing);
    if (this.mute.mutes(key, level, now)) return null;
    return heardAs(standing.bell, standing.rung, this.ear, this.mirror.staff, now);
  }

  muteStanding(forMs?: number): void {
    this.mute.start(this.mirror.bells.map(mutable), this.now, forMs);
  }

  get style() {
    return { zone: 'Europe/Berlin', locale: 'en-GB', hours: 24 as const };
  }

  clock(at: number): string {
    return clockTime(at, this.style);
  }

  get clockNow(): string {
    return this.clock(this.now);
  }

  clockToSecond(at: number): string {
    return clockTimeToSecond(at, this.style);
  }

  contextOf(): Session['context'] {
    return this.context;
  }

  get context() {
    const { salon } = this.mirror;
    return { now: this.now, figures: salon.figures, uncertain: salon.uncertainSince !== null || !this.confirmed };
  }

  hold(person: string | null): void {
    this.person = person;
  }

  async about(visit: VisitFacts | null, command: Command, happenedAt: number | null = null): Promise<Sent> {
    const answer = this.life.send(command, { seen: visit?.version ?? null, by: this.person, happenedAt });
    this.show();
    const id = `sent-${++this.touches}`;
    const of = { id, command, chair: visit?.chair ?? chairNamed(command), at: happenedAt ?? this.now };
    if (answer.outcome === 'done') {
      const { visit: about } = answer;
      return { ...of, outcome: 'done', answer: { outcome: 'done', visit: about, version: null, revision: 0 } };
    }
    const { visit: concerned, since, place, field } = answer;
    const problem = problemOf(answer.code, { visit: concerned, since, place, field });
    const late = answer.code === 'moved-on' && happenedAt !== null;
    const refused: Sent = { ...of, outcome: 'refused', problem, late };
    this.refused = [...this.refused, refused];
    return refused;
  }

  /** As the screens want it. */
  get session(): Session {
    return this as unknown as Session;
  }
}

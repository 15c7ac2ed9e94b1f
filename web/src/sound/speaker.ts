import { rankOf, type BellLevel } from '../../../core/bells/level.ts';
import type { Timers } from '../state/timers.ts';
import type { SoundingBell } from './ringer-plan.ts';
import { voiceFor, type SpeechPort } from './speech-port.ts';

/** Longer than the silence between two bursts: where another follows at once, nothing is said between them. */
export const AFTER_BURST_MS = 450;
/** A bell that goes on sounding is said again after this long, not with every burst: clients sit there. */
export const SAID_AGAIN_MS = 60_000;
/** A voice that has not begun by then hangs: a voice of the internet without it, a browser that lost its voices. */
export const BEGINS_WITHIN_MS = 3_000;
/** Longest that a sentence of ours may take; one that never says that it is over must not silence the next. */
export const OVER_WITHIN_MS = 8_000;
/** After so many failures in a row it is left alone until voices change or this long has gone. */
const FAILURES = 3;
const REST_MS = 5 * 60_000;

interface Deps {
  /** Null where the browser has no voices at all. */
  readonly port: SpeechPort | null;
  readonly locale: () => string;
  readonly now: () => number;
  readonly timers: Timers;
}

/** A bell with its sentence; one without is not said. */
export type SaidBell = Pick<SoundingBell, 'key' | 'level' | 'said' | 'sinceAt'>;

/**
 * Says bells after their bursts (W4). One sentence at a time and none waiting behind it: after a burst, or a sentence, the most
 * urgent bell that has rung and was not said lately is next; a burst cuts off what is being said, which then counts as unsaid.
 */
export class Speaker {
  readonly #deps: Deps;
  #bells: readonly SaidBell[] = [];
  readonly #rung = new Set<string>();
  readonly #saidAt = new Map<string, number>();
  #current: { readonly key: string; over: boolean } | null = null;
  #timer: unknown = null;
  #failures = 0;
  #restsUntil = Number.NEGATIVE_INFINITY;

  constructor(deps: Deps) {
    this.#deps = deps;
  }

  /** Whether anything could be said now, for whoever sets the room up. */
  get hasVoice(): boolean {
    return this.#voice() !== null;
  }

  /** The bells that sound now. One that has ended is not said, and not to its end. */
  follow(bells: readonly SaidBell[]): void {
    this.#bells = bells.filter(({ said }) => typeof said === 'string');
    const standing = new Set(this.#bells.map(({ key }) => key));
    for (const key of this.#rung) if (!standing.has(key)) this.#rung.delete(key);
    for (const key of this.#saidAt.keys()) if (!standing.has(key)) this.#saidAt.delete(key);
    if (this.#current !== null && !standing.has(this.#current.key)) this.#cut();
  }

  /** A burst has begun: speech is silent until it is over. */
  burst({ key }: { readonly key: string; readonly level: BellLevel }, lengthMs: number): void {
    this.#cut();
    this.#rung.add(key);
    this.#lookIn(lengthMs + AFTER_BURST_MS);
  }

  #voice(): SpeechSynthesisVoice | null {
    const { port, locale } = this.#deps;
    // Asked each time: voices come late in some browsers, and not all of them tell.
    return port === null ? null : voiceFor(locale(), port.voices());
  }

  #lookIn(ms: number): void {
    if (this.#timer !== null) this.#deps.timers.clear(this.#timer);
    this.#timer = this.#deps.timers.set(() => {
      this.#timer = null;
      this.#look();
    }, ms);
  }

  #next(now: number): SaidBell | null {
    const due = this.#bells.filter(
      ({ key }) => this.#rung.has(key) && now - (this.#saidAt.get(key) ?? Number.NEGATIVE_INFINITY) >= SAID_AGAIN_MS,
    );
    const [first] = [...due].sort((a, b) => rankOf(b.level) - rankOf(a.level) || a.sinceAt - b.sinceAt);
    return first ?? null;
  }

  #look(): void {
    const now = this.#deps.now();
    if (this.#current !== null || now < this.#restsUntil) return;
    const bell = this.#next(now);
    const voice = bell === null ? null : this.#voice();
    if (bell === null || voice === null || this.#deps.port === null) return;
    const one = { key: bell.key, over: false };
    this.#current = one;
    const over = (well: boolean): void => this.#over(one, well);
    // Watched over twice: it may never begin, and it may never end.
    let watch = this.#deps.timers.set(() => over(false), BEGINS_WITHIN_MS);
    const began = (): void => {
      if (one.over) return;
      this.#deps.timers.clear(watch);
      watch = this.#deps.timers.set(() => over(false), OVER_WITHIN_MS);
    };
    try {
      this.#deps.port.say(bell.said ?? '', voice, { began, over });
    } catch {
      over(false);
    }
  }

  #over(one: { readonly key: string; over: boolean }, well: boolean): void {
    if (one.over) return;
    one.over = true;
    if (this.#current === one) this.#current = null;
    this.#failures = well ? 0 : this.#failures + 1;
    if (!well) this.#deps.port?.cancel();
    if (this.#failures >= FAILURES) {
      this.#failures = 0;
      this.#restsUntil = this.#deps.now() + REST_MS;
    }
    // A sentence that failed is tried again after its bell's next burst; it must not be tried in a circle.
    if (well) this.#saidAt.set(one.key, this.#deps.now());
    else this.#rung.delete(one.key);
    this.#lookIn(AFTER_BURST_MS);
  }

  /** Counts as unsaid, and is no failure of the voice's. */
  #cut(): void {
    if (this.#current === null) return;
    this.#current.over = true;
    this.#current = null;
    this.#deps.port?.cancel();
  }
}

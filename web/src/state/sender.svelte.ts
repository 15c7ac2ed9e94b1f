import type { Command } from '../../../core/command.ts';
import type { PlaceNumber, VisitId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { WireAnswer } from '../../../shared/wire.ts';
import { lanesStuck, visitNamed } from './lanes.ts';
import type { AboutTouch, Outbox } from './outbox.svelte.ts';
import { isOpen } from './queue.ts';
import type { Touch } from './touch.ts';

interface OfTouch {
  readonly id: string;
  readonly command: Command;
  /** When it happened: as the person said, else when it was touched. */
  readonly at: EpochMs;
  readonly chair: PlaceNumber | null;
}

/**
 * How one touch stands on a screen: on its way, kept on this device because it is not through yet, done, or refused. `late`: it
 * came too late to change anything and is kept as a statement, so that a correction is offered (X3). `held`: made for another salon
 * than the one that answers.
 */
export type Sent =
  | (OfTouch & { readonly outcome: 'sending' | 'trying'; readonly tries: number; readonly held: boolean })
  | (OfTouch & { readonly outcome: 'done' | 'kept-unsaved'; readonly answer: WireAnswer })
  | (OfTouch & { readonly outcome: 'refused'; readonly problem: Problem; readonly late: boolean });

const unknownAnswer: WireAnswer = { outcome: 'done', visit: null, version: null, revision: 0 };

/** What screens see of the outbox: touches by the head they are about, and a promise for each that is made. */
export class Sender {
  readonly outbox: Outbox;
  /** Everything that has no outcome yet or wants reading, oldest first. */
  readonly sent: readonly Sent[] = $derived.by(() => this.#all());
  readonly #linked: () => boolean;

  constructor(outbox: Outbox, linked: () => boolean) {
    this.outbox = outbox;
    this.#linked = linked;
  }

  /** Resolves when it was done or refused, however long the server is away; `happenedAt` for "since −2" (X4). */
  async send(command: Command, about: AboutTouch): Promise<Sent> {
    return sentOf(await this.outbox.add(command, about), 'sending', false);
  }

  /** The person has read why it was refused. */
  dismiss(id: string): void {
    this.outbox.dismiss(id);
  }

  /** Refusals that still want reading, and touches not through yet, at one chair or about no head. */
  about(visit: VisitId | null, chair: PlaceNumber): readonly Sent[] {
    return this.sent.filter((one) =>
      one.chair === null ? 'visit' in one.command && visitNamed(one.command) === visit : one.chair === chair,
    );
  }

  #all(): readonly Sent[] {
    const { touches, underWay, foreign } = this.outbox;
    const stuck = lanesStuck(touches.filter(isOpen), this.#linked(), underWay);
    return touches
      .filter(({ state }) => state !== 'done')
      .map((touch) => sentOf(touch, stuck.has(touch.lane) ? 'trying' : 'sending', foreign.includes(touch)));
  }
}

function sentOf(touch: Touch, open: 'sending' | 'trying', held: boolean): Sent {
  const { id, command, chair, problem } = touch;
  const of = { id, command, chair, at: touch.happenedAt ?? touch.touchedAt };
  switch (touch.state) {
    case 'waiting':
      return { ...of, outcome: held ? 'trying' : open, tries: touch.tries, held };
    case 'done':
    case 'kept-unsaved':
      return { ...of, outcome: touch.state, answer: touch.answer ?? unknownAnswer };
    case 'refused':
    case 'statement':
      // Read from the store with its problem, or not at all.
      return { ...of, outcome: 'refused', problem: problem as Problem, late: touch.state === 'statement' };
    default:
      return touch.state satisfies never;
  }
}

import type { Command } from '../../../core/command.ts';
import type { VisitId } from '../../../core/ids.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { CommandRequest, WireAnswer } from '../../../shared/wire.ts';
import { newId } from './device.ts';
import type { Timers } from './timers.ts';

/** How one touch stands: on its way, not through yet (tried again), done, or refused with the reason. */
export type Sent =
  | { readonly outcome: 'sending' | 'trying'; readonly id: string; readonly command: Command }
  | {
      readonly outcome: 'done' | 'kept-unsaved';
      readonly id: string;
      readonly command: Command;
      readonly answer: WireAnswer;
    }
  | { readonly outcome: 'refused'; readonly id: string; readonly command: Command; readonly problem: Problem };

interface Deps {
  readonly post: (body: CommandRequest) => Promise<{ readonly status: number; readonly body: unknown }>;
  readonly timers: Timers;
  readonly now: () => number;
  readonly person: () => string | null;
  readonly device: string;
}

/** Wait before a touch that did not get through is sent again. */
const AGAIN_MS = 1_500;

/**
 * Sends what people touch. The same touch keeps its id however often it is sent (S8); a network error is never an
 * outcome, so it is tried again for as long as the page is open, then naming when it happened (X3).
 */
export class Sender {
  /** Touches under way or refused, newest last; done ones go, since the change itself comes by push. */
  sent = $state.raw<readonly Sent[]>([]);
  readonly #deps: Deps;

  constructor(deps: Deps) {
    this.#deps = deps;
  }

  /** Resolves when it was done or refused; `happenedAt` for "since −2" (X4). */
  async send(command: Command, seen: number | null, happenedAt: number | null = null): Promise<Sent> {
    const { device, person, now } = this.#deps;
    const touchedAt = now();
    const id = newId();
    this.#note({ outcome: 'sending', id, command });
    let request: CommandRequest = { ...command, id, by: person(), device, seen, happenedAt };
    for (;;) {
      const settled = await this.#try(request, command);
      if (settled !== null) {
        this.#note(settled);
        return settled;
      }
      this.#note({ outcome: 'trying', id, command });
      request = { ...request, happenedAt: happenedAt ?? Math.round(touchedAt) };
      await new Promise<void>((resolve) => this.#deps.timers.set(resolve, AGAIN_MS));
    }
  }

  /** The person has read why it was refused. */
  dismiss(id: string): void {
    this.sent = this.sent.filter((one) => one.id !== id);
  }

  /** Refusals that still want reading, and touches not through yet, about one visit or about none. */
  about(visit: VisitId | null): readonly Sent[] {
    return this.sent.filter(
      (one) => !('visit' in one.command) || one.command.visit === null || one.command.visit === visit,
    );
  }

  async #try(request: CommandRequest, command: Command): Promise<Sent | null> {
    try {
      const { status, body } = await this.#deps.post(request);
      if (status >= 200 && status < 300) {
        const answer = body as WireAnswer;
        return { outcome: answer.outcome, id: request.id, command, answer };
      }
      const problem = body as Problem;
      return problem.code === undefined || problem.code === 'again'
        ? null
        : { outcome: 'refused', id: request.id, command, problem };
    } catch {
      return null;
    }
  }

  #note(sent: Sent): void {
    const others = this.sent.filter((one) => one.id !== sent.id);
    const over = sent.outcome === 'done' || sent.outcome === 'kept-unsaved';
    this.sent = over ? others : [...others, sent].slice(-20);
  }
}

/** Posts one command to the server this page came from. */
export async function postCommand(body: CommandRequest): Promise<{ status: number; body: unknown }> {
  const response = await fetch('/api/v1/commands', {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(5_000),
  });
  return { status: response.status, body: await response.json() };
}

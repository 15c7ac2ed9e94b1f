import type { CommandId } from '../../core/ids.ts';
import type { HandTurn, Snapshot } from '../../shared/wire.ts';
import type { Act } from './act.ts';
import type { Ask, Answer } from './ask.ts';
import { plan } from './plan.ts';
import type { SettingUp } from './salon.ts';
import { viewOf, type View } from './view.ts';

const COMMANDS = '/api/v1/commands';

/** What somebody sees who looks up, and what is next at each chair. */
export interface Look {
  readonly view: View;
  readonly acts: readonly Act[];
}

/** Everybody who works on the model day's floor: they look at it, and act through the public API like people would. */
export class Players {
  readonly #ask: Ask;
  readonly #seed: number;
  readonly #seen: (snapshot: Snapshot) => Promise<void>;
  #view: View | null = null;
  /** The same would be refused again; something else has to happen first. */
  readonly #refused = new Set<CommandId>();

  /** `seen`: told of the floor at each look. */
  constructor(ask: Ask, seed: number, seen: (snapshot: Snapshot) => Promise<void> = async () => undefined) {
    this.#ask = ask;
    this.#seed = seed;
    this.#seen = seen;
  }

  /** Sets the salon up; within a round the order does not matter. */
  async setUp(rounds: readonly (readonly SettingUp[])[]): Promise<void> {
    for (const round of rounds) {
      const answers = await Promise.all(
        round.map(({ id, by, command }) => this.#ask('POST', COMMANDS, { id, by, ...command })),
      );
      for (const answer of answers) if (answer.status !== 200) throw new Error(`set-up was refused: ${said(answer)}`);
    }
  }

  /** The floor as it is now, and what is next at each chair. */
  async look(): Promise<Look> {
    const { status, body } = await this.#ask('GET', '/api/v1/floor', null);
    if (status !== 200) throw new Error(`the floor was not told: ${said({ status, body })}`);
    await this.#seen(body as Snapshot);
    return this.#planned(viewOf(body as Snapshot, this.#view));
  }

  /** The same after a turn of the hand-driven clock: where nothing happened the floor need not be told again. */
  async lookAfter({ now, revision }: HandTurn): Promise<Look> {
    return this.#view?.revision === revision ? this.#planned({ ...this.#view, now }) : this.look();
  }

  #planned(view: View): Look {
    this.#view = view;
    return { view, acts: plan(view, this.#seed).filter((act) => !this.#refused.has(act.id)) };
  }

  /** Does what is due, at all chairs at once; returns what was refused. */
  async act(acts: readonly Act[]): Promise<readonly string[]> {
    const told = await Promise.all(acts.map((act) => this.#do(act)));
    return told.filter((one) => one !== null);
  }

  async #do({ id, by, seen, command }: Act): Promise<string | null> {
    const answer = await this.#ask('POST', COMMANDS, { id, by, seen, ...command });
    if (answer.status === 200 || answer.status === 202) return null;
    // "Again" was not kept, and is tried again at the next look.
    if (answer.status !== 503) this.#refused.add(id);
    return `${command.type} as ${id}: ${said(answer)}`;
  }
}

function said({ status, body }: Answer): string {
  return `${status} ${JSON.stringify(body)}`;
}

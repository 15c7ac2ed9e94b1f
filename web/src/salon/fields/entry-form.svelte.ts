import type { Command } from '../../../../core/command.ts';
import { ruleRefusals, type RuleRefusal } from '../../../../core/refusal.ts';
import type { Problem } from '../../../../shared/problem.ts';
import type { Session } from '../../state/session.svelte.ts';
import { words } from '../../words/words.ts';
import type { EntryFault, FieldFault } from '../form/fault.ts';
import { refusedField } from '../form/refusal-field.ts';

interface Refusal {
  readonly field: string | null;
  readonly text: string;
}

/** Why the server refused, in our words where we have them. */
function refusalOf(problem: Problem): Refusal {
  const fault = problem.field?.split(':')[1];
  const faults: Readonly<Record<string, (least: string | null, most: string | null) => string>> = words().salon.faults;
  const known = fault === undefined ? undefined : faults[fault];
  const ruled = (ruleRefusals as readonly string[]).includes(problem.code);
  const stillSold = problem.code === 'in-use' && problem.field === 'directions';
  if (stillSold) return { field: null, text: words().salon.directions.stillSold };
  const text = known?.(null, null) ?? (ruled ? words().refusals[problem.code as RuleRefusal] : problem.detail);
  return { field: refusedField(problem), text };
}

/**
 * How one form stands: which of its faults are shown, whether it is being stored, and what the server said. A field
 * that is only empty is not blamed before somebody has been there; what contradicts itself is said while typing.
 */
export class EntryForm {
  busy = $state(false);
  saved = $state(false);
  #pressed = $state(false);
  #been = $state.raw<readonly string[]>([]);
  #refusal = $state.raw<Refusal | null>(null);
  readonly #session: Session;
  readonly #faults: () => readonly FieldFault[];
  readonly #shown: string[] = [];

  constructor(session: Session, faults: () => readonly FieldFault[]) {
    this.#session = session;
    this.#faults = faults;
  }

  /** What is said beside a field; null: nothing. */
  at(field: string): string | null {
    if (!this.#shown.includes(field)) this.#shown.push(field);
    if (this.busy) return null;
    if (this.#refusal?.field === field) return this.#refusal.text;
    const found = this.#faults().find((fault) => fault.field === field);
    if (found === undefined || (found.fault === 'missing' && !this.#pressed && !this.#been.includes(field)))
      return null;
    const say: Record<EntryFault, (least: string | null, most: string | null) => string> = words().salon.faults;
    return say[found.fault](found.least, found.most);
  }

  /** What the server refused without a field that this form shows: said beside the button. */
  get refusal(): string | null {
    if (this.#refusal === null) return null;
    const { field, text } = this.#refusal;
    return field !== null && this.#shown.includes(field) ? null : text;
  }

  /** How many faults keep it from being stored; 0 until somebody tried. */
  get missing(): number {
    return this.#pressed ? this.#faults().length : 0;
  }

  been(field: string): void {
    if (!this.#been.includes(field)) this.#been = [...this.#been, field];
  }

  /** Something was typed: what the server said of the old text no longer holds. */
  edited(): void {
    this.#refusal = null;
    this.saved = false;
  }

  /** False, with every fault shown, while anything is wrong. */
  press(): boolean {
    this.#pressed = true;
    this.#refusal = null;
    return this.#faults().length === 0;
  }

  /** The command's id once it is stored; null if it was refused, which is then shown. */
  async send(command: Command): Promise<string | null> {
    this.busy = true;
    this.saved = false;
    this.#refusal = null;
    const sent = await this.#session.about(null, command);
    this.busy = false;
    if (sent.outcome === 'refused') {
      this.#session.sender.dismiss(sent.id);
      this.#refusal = refusalOf(sent.problem);
      return null;
    }
    this.saved = true;
    return sent.id;
  }

  /** What goes another way than a command: `call` says why it was refused, or null once it is done. */
  async ask(call: () => Promise<Refusal | null>): Promise<boolean> {
    this.busy = true;
    this.saved = false;
    this.#refusal = null;
    this.#refusal = await call();
    this.busy = false;
    this.saved = this.#refusal === null;
    return this.saved;
  }

  /** Blank again, for the next entry. */
  begin(): void {
    this.#pressed = false;
    this.#been = [];
    this.#refusal = null;
    this.saved = false;
  }
}

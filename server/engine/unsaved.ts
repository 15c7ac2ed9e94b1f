import type { CommandId } from '../../core/ids.ts';
import type { EpochMs } from '../../core/time.ts';
import type { Batch, KeptAnswer } from '../store/store.ts';

/** What could not be stored yet, in order. Places in the log are given already and stay what they are (R8). */
export class Unsaved {
  #batches: Batch[] = [];
  #since: EpochMs | null = null;

  get batches(): readonly Batch[] {
    return this.#batches;
  }

  /** Since when; null while everything is stored. */
  get since(): EpochMs | null {
    return this.#since;
  }

  get some(): boolean {
    return this.#batches.length > 0;
  }

  keep(batches: readonly Batch[], since: EpochMs | null): void {
    if (batches.length === 0) return;
    this.#batches = [...this.#batches, ...batches];
    this.#since ??= since;
  }

  answerOf(id: CommandId): KeptAnswer | null {
    return this.#batches.find((batch) => batch.kept?.id === id)?.kept ?? null;
  }

  stored(): void {
    this.#batches = [];
    this.#since = null;
  }
}

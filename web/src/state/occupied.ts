import type { Session } from './session.svelte.ts';

const FIELDS = 'input, textarea, select';

/** Whether a page that opened itself anew now would take something from somebody. */
export class Occupied {
  readonly #by = new Set<string>();

  /** A panel, for instance, says so while it is open. */
  say(what: string, occupied: boolean): void {
    if (occupied) this.#by.add(what);
    else this.#by.delete(what);
  }

  get some(): boolean {
    return this.#by.size > 0;
  }
}

export const occupied = new Occupied();

/** Something is being typed, an open panel says so, or a touch has not got through yet. */
export function somebodyIsAtIt(
  { sender }: Pick<Session, 'sender'>,
  by: Occupied = occupied,
  page: Pick<Document, 'activeElement'> = document,
): boolean {
  const typing = page.activeElement?.matches(FIELDS) ?? false;
  return typing || by.some || sender.sent.some(({ outcome }) => outcome === 'sending' || outcome === 'trying');
}

import type { WireAnswer } from '../../../shared/wire.ts';
import type { TouchStore, Stored } from './device-store.ts';
import type { OtherPages, Told } from './other-pages.ts';
import { isOpen } from './queue.ts';
import type { Timers } from './timers.ts';
import { inOrder, readTouch, type Touch } from './touch.ts';

interface Deps {
  readonly pages: OtherPages;
  readonly timers: Timers;
  readonly wallNow: () => number;
  readonly changed: (touches: readonly Touch[], unreadable: readonly Stored[]) => void;
  /** A touch has got its outcome, on whichever page. */
  readonly tell: (touch: Touch) => void;
}

/** How often a page looks what the others have left in the store, ms. */
const REREAD_MS = 3_000;
/** How many ids of touches that are over a page remembers, so that none comes back by a late word. */
const REMEMBERED = 500;

/** Settled by another page, whose word of it was missed: what it answered is not known any more. */
const unheard: WireAnswer = { outcome: 'done', visit: null, version: null, revision: 0 };

/** The touches of this device, the same on all its pages: in memory first, from there to the store and to the other pages. */
export class SharedQueue {
  readonly #deps: Deps;
  readonly #touches = new Map<string, Touch>();
  readonly #unreadable = new Map<string, Stored>();
  /** In the store for certain: if one is missing there later, another page has settled it. */
  readonly #kept = new Set<string>();
  readonly #over = new Set<string>();
  #store: TouchStore | null = null;

  constructor(deps: Deps) {
    this.#deps = deps;
    deps.pages.listen((told) => this.#hear(told));
  }

  /** Shown at once; storing and telling follow, and hold up nothing. */
  change(put: readonly Touch[], gone: readonly string[] = []): void {
    for (const touch of put) this.#take(touch);
    for (const id of gone) this.#forget(id);
    this.#show();
    this.#deps.pages.tell({ put, gone });
    void this.#write(put, gone);
  }

  /** A done one has landed. */
  forget(id: string): void {
    if (!this.#touches.has(id)) return;
    this.#forget(id);
    this.#show();
  }

  /** Takes in what an earlier page left, and keeps from now on. */
  async keepIn(store: TouchStore): Promise<void> {
    const left = (await store.readTouches()) ?? [];
    const mine = [...this.#touches.values()];
    for (const one of left) this.#takeStored(one);
    const last = Math.max(0, ...left.map(({ id }) => this.#touches.get(id)?.n ?? 0));
    // Touched while the store was being opened: after everything that was there.
    const later = inOrder(mine).map((touch, i) => ({ ...touch, n: last + i + 1 }));
    for (const touch of later) this.#touches.set(touch.id, touch);
    this.#store = store;
    this.#show();
    await this.#write(later, []);
    this.#rereadLater();
  }

  /** What other pages have left or settled, where their word was missed. */
  async reread(): Promise<void> {
    const expected = [...this.#kept];
    const left = await this.#store?.readTouches();
    if (left === null || left === undefined) return;
    for (const one of left) this.#takeStored(one);
    // Stored once more by a page that had not heard that it was over.
    const undead = left.map(({ id }) => id).filter((id) => this.#over.has(id));
    if (undead.length > 0) void this.#store?.changeTouches([], undead);
    const there = new Set(left.map(({ id }) => id));
    for (const id of expected) {
      const touch = this.#touches.get(id);
      if (there.has(id) || touch === undefined || !this.#kept.has(id)) continue;
      this.#kept.delete(id);
      if (isOpen(touch)) this.#take({ ...touch, state: 'done', answer: unheard, settledWall: this.#deps.wallNow() });
      else if (touch.state !== 'done') this.#forget(id);
    }
    this.#show();
  }

  #rereadLater(): void {
    this.#deps.timers.set(() => void this.reread().then(() => this.#rereadLater()), REREAD_MS);
  }

  #hear({ put, gone }: Told): void {
    for (const told of put) {
      const touch = readTouch({ id: told.id, value: told });
      if (touch !== null) this.#take(touch);
    }
    for (const id of gone) this.#forget(id);
    this.#show();
  }

  #takeStored(one: Stored): void {
    const touch = readTouch(one);
    if (touch === null) {
      if (!this.#over.has(one.id)) this.#unreadable.set(one.id, one);
      return;
    }
    this.#kept.add(one.id);
    this.#take(touch);
  }

  /** The word of one page against another's: an outcome is never unsaid. */
  #take(touch: Touch): void {
    const had = this.#touches.get(touch.id);
    if (this.#over.has(touch.id) || had?.state === 'done') return;
    if (had !== undefined && !isOpen(had) && isOpen(touch)) return;
    this.#touches.set(touch.id, touch);
    if (!isOpen(touch) && had?.state !== touch.state) this.#deps.tell(touch);
  }

  #forget(id: string): void {
    this.#touches.delete(id);
    this.#unreadable.delete(id);
    this.#kept.delete(id);
    this.#over.add(id);
    if (this.#over.size > REMEMBERED) this.#over.delete([...this.#over][0] ?? '');
  }

  async #write(put: readonly Touch[], gone: readonly string[]): Promise<void> {
    if (this.#store === null || put.length + gone.length === 0) return;
    const keep = put.filter(({ state }) => state !== 'done');
    const done = put.filter(({ state }) => state === 'done').map(({ id }) => id);
    for (const id of done) this.#kept.delete(id);
    const stored = keep.map((touch) => ({ id: touch.id, value: touch }));
    if (!(await this.#store.changeTouches(stored, [...done, ...gone]))) return;
    for (const { id } of keep) if (this.#touches.has(id)) this.#kept.add(id);
  }

  #show(): void {
    this.#deps.changed(inOrder([...this.#touches.values()]), [...this.#unreadable.values()]);
  }
}

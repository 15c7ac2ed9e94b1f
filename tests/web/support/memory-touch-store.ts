import type { LeaseRecord, Stored, StoreTrouble, TouchStore } from '../../../web/src/state/device-store.ts';

/** A device's database without a browser: outlives the pages that use it, clones what it keeps. Can be made to fail. */
export class MemoryTouchStore implements TouchStore {
  trouble: StoreTrouble | null = null;
  lease: LeaseRecord | null = null;
  readonly touches = new Map<string, unknown>();
  #told: ((trouble: StoreTrouble) => void)[] = [];

  onTrouble(told: (trouble: StoreTrouble) => void): void {
    if (this.trouble !== null) told(this.trouble);
    else this.#told.push(told);
  }

  fail(trouble: StoreTrouble): void {
    this.trouble = trouble;
    for (const told of this.#told) told(trouble);
  }

  async readTouches(): Promise<readonly Stored[] | null> {
    return this.trouble === null ? [...this.touches].map(([id, value]) => ({ id, value })) : null;
  }

  async changeTouches(put: readonly Stored[], gone: readonly string[] = []): Promise<boolean> {
    if (this.trouble !== null) return false;
    for (const { id, value } of put) this.touches.set(id, structuredClone(value));
    for (const id of gone) this.touches.delete(id);
    return true;
  }

  async changeLease(decide: (held: LeaseRecord | null) => LeaseRecord | null): Promise<LeaseRecord | null> {
    if (this.trouble !== null) return null;
    this.lease = decide(this.lease) ?? this.lease;
    return this.lease;
  }

  async dropLease(holder: string): Promise<void> {
    if (this.lease?.holder === holder) this.lease = null;
  }
}

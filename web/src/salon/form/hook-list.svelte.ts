import type { HookMade, HookTested, HookTold, HookWanted } from '../../../../shared/hooks.ts';
import type { Problem } from '../../../../shared/problem.ts';

/** What the server said: an answer, a refusal, or with `problem` null nothing at all. */
export type Called<T> = { readonly answer: T } | { readonly problem: Problem | null };

/** The hooks as the server tells them. They are no part of the floor, so they are asked for, not pushed. */
export class HookList {
  /** Null until they were heard. */
  hooks = $state.raw<readonly HookTold[] | null>(null);
  /** The last question got no answer. */
  lost = $state(false);
  readonly #fetch: typeof fetch;

  constructor(fetchHere: typeof fetch) {
    this.#fetch = fetchHere;
  }

  async look(): Promise<void> {
    const called = await this.#call<readonly HookTold[]>('GET', '');
    this.lost = !('answer' in called);
    if ('answer' in called) this.hooks = called.answer;
  }

  add(wanted: HookWanted): Promise<Called<HookMade>> {
    return this.#after(this.#call<HookMade>('POST', '', wanted));
  }

  turn(id: string, on: boolean): Promise<Called<HookTold>> {
    return this.#after(this.#call<HookTold>('PATCH', `/${id}`, { on }));
  }

  remove(id: string): Promise<Called<null>> {
    return this.#after(this.#call<null>('DELETE', `/${id}`));
  }

  test(id: string): Promise<Called<HookTested>> {
    return this.#after(this.#call<HookTested>('POST', `/${id}/test`));
  }

  /** Whatever was done, what stands now is asked for. */
  async #after<T>(call: Promise<Called<T>>): Promise<Called<T>> {
    const called = await call;
    await this.look();
    return called;
  }

  async #call<T>(method: string, path: string, body: object | null = null): Promise<Called<T>> {
    try {
      const sent = body === null ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
      const response = await this.#fetch(`/api/v1/hooks${path}`, { method, ...sent });
      const told: unknown = response.status === 204 ? null : await response.json();
      return response.ok ? { answer: told as T } : { problem: told as Problem };
    } catch {
      return { problem: null };
    }
  }
}

import type { CommandId } from '../../core/ids.ts';
import { problemOf } from '../../shared/problem.ts';
import type { CommandRequest } from '../../shared/wire.ts';
import type { Asked } from './plan.ts';
import type { Reply } from './reply.ts';

interface One extends Asked {
  readonly tell: ((reply: Reply) => void)[];
}

type Known = (id: CommandId) => { readonly hash: string; readonly reply: Reply } | null;

const reused: Reply = { refused: problemOf('id-reused') };

/** Commands between arrival and answer. The same id is asked once, however often it came (S8). */
export class Waiting {
  #arrived = new Map<CommandId, One>();
  #asked: readonly One[] = [];

  get size(): number {
    return this.#arrived.size;
  }

  add(request: CommandRequest, hash: string): Promise<Reply> {
    const there = this.#arrived.get(request.id);
    if (there !== undefined && there.hash !== hash) return Promise.resolve(reused);
    return new Promise((resolve) => {
      if (there === undefined) this.#arrived.set(request.id, { request, hash, tell: [resolve] });
      else there.tell.push(resolve);
    });
  }

  /** What is to be decided now; what has its answer already gets it. */
  take(known: Known): readonly Asked[] {
    const arrived = [...this.#arrived.values()];
    this.#arrived = new Map();
    this.#asked = arrived.filter((one) => {
      const answer = known(one.request.id);
      if (answer === null) return true;
      const reply = answer.hash === one.hash ? answer.reply : reused;
      for (const tell of one.tell) tell(reply);
      return false;
    });
    return this.#asked;
  }

  /** One reply per command taken, in order. */
  answer(replies: readonly Reply[]): void {
    this.#asked.forEach((one, i) => {
      for (const tell of one.tell) tell(replies[i] ?? { refused: problemOf('failed') });
    });
    this.#asked = [];
  }
}

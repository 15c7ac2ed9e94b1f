import { lookup, Resolver } from 'node:dns/promises';
import { isIP } from 'node:net';

/** How long a name server is asked before the name counts as not found. */
const ASK_FOR_MS = 2_000;
/** The system's own look-up holds a thread of the four that also read files: never more of them than this at once. */
const HELD_THREADS = 2;

export interface Names {
  /** Addresses of a host; throws where there are none. */
  find(host: string): Promise<readonly string[]>;
}

/**
 * Names are asked of the name server first, which can be given up and holds no thread; only what it does not know (names of
 * the house: `lamp`, `lamp.local`, the hosts file) is asked of the system.
 */
export class HouseNames implements Names {
  readonly #lookUp: (host: string) => Promise<readonly string[]>;
  #held = 0;
  readonly #waiting: (() => void)[] = [];

  constructor(lookUp = ofSystem) {
    this.#lookUp = lookUp;
  }

  async find(host: string): Promise<readonly string[]> {
    if (isIP(host) !== 0) return [host];
    if (host.includes('.') && !host.endsWith('.local')) {
      const found = await asked(host);
      if (found.length > 0) return found;
    }
    return this.#ofSystem(host);
  }

  async #ofSystem(host: string): Promise<readonly string[]> {
    while (this.#held >= HELD_THREADS) await new Promise<void>((go) => this.#waiting.push(go));
    this.#held += 1;
    try {
      return await this.#lookUp(host);
    } finally {
      this.#held -= 1;
      this.#waiting.shift()?.();
    }
  }
}

async function ofSystem(host: string): Promise<readonly string[]> {
  return (await lookup(host, { all: true, verbatim: true })).map(({ address }) => address);
}

/** Empty where the name server knows no such name; throws where it does not answer. */
async function asked(host: string): Promise<string[]> {
  const resolver = new Resolver({ timeout: ASK_FOR_MS, tries: 1 });
  const [four, six] = await Promise.allSettled([resolver.resolve4(host), resolver.resolve6(host)]);
  const found = [four, six].flatMap((one) => (one.status === 'fulfilled' ? one.value : []));
  if (found.length === 0 && four.status === 'rejected' && isTimeout(four.reason)) throw four.reason;
  return found;
}

const isTimeout = (error: unknown): boolean => error instanceof Error && 'code' in error && error.code === 'ETIMEOUT';

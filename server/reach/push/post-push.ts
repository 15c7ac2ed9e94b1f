import { Agent as PlainAgent, request as plain, type ClientRequest, type IncomingMessage } from 'node:http';
import { Agent as SecureAgent, request as secure } from 'node:https';
import type { Ms } from '../../../core/time.ts';
import type { Timers } from '../../engine/timers.ts';
import { lookupOutside } from './endpoint.ts';

export interface PushRequest {
  readonly endpoint: string;
  readonly headers: Readonly<Record<string, string | number>>;
  readonly body: Buffer;
}

/** What a push service said, or that it said nothing in time. */
export type PushOutcome =
  | { readonly is: 'taken' }
  /** The subscription is over (RFC 8030 §7.3: 404; in use also 410). */
  | { readonly is: 'gone' }
  /** Asked to come again, or nobody answered; `afterMs` where it said how long. */
  | { readonly is: 'later'; readonly afterMs: Ms | null; readonly why: string }
  | { readonly is: 'refused'; readonly status: number };

export interface PostDeps {
  readonly timers: Timers;
  readonly withinMs: Ms;
  /** Wall clock, for a Retry-After that names a date. */
  readonly wall: () => number;
}

/** Sends once; looks at nothing but status and Retry-After, follows nothing, never throws. */
export type PostPush = (request: PushRequest) => { readonly posted: Promise<PushOutcome>; readonly abort: () => void };

/** Idle links are closed before push services do; one more request would then fail for nothing. */
const agentOptions = { keepAlive: true, keepAliveMsecs: 10_000, maxFreeSockets: 4, scheduling: 'lifo' } as const;

/** Links of its own: a push service that hangs holds up nothing else of this process. */
export class PushPost {
  readonly #deps: PostDeps;
  readonly #secure = new SecureAgent(agentOptions);
  readonly #plain = new PlainAgent(agentOptions);

  constructor(deps: PostDeps) {
    this.#deps = deps;
  }

  readonly post: PostPush = ({ endpoint, headers, body }) => {
    let end: (outcome: PushOutcome) => void = () => undefined;
    const posted = new Promise<PushOutcome>((resolve) => (end = resolve));
    let asked: ClientRequest | null = null;
    const over = (outcome: PushOutcome): void => {
      stopClock();
      end(outcome);
      asked?.destroy();
    };
    const later = (why: string): void => over({ is: 'later', afterMs: null, why });
    const stopClock = this.#deps.timers.after(this.#deps.withinMs, () => later('timeout'));
    try {
      const options = { method: 'POST', headers, lookup: lookupOutside };
      asked = endpoint.startsWith('https:')
        ? secure(endpoint, { ...options, agent: this.#secure })
        : plain(endpoint, { ...options, agent: this.#plain });
      asked.on('response', (response: IncomingMessage) => {
        stopClock();
        end(outcomeOf(response, this.#deps.wall()));
        // Read to its end, the link can be used again; one that never ends is cut.
        const stopDraining = this.#deps.timers.after(this.#deps.withinMs, () => response.destroy());
        response.on('close', stopDraining).resume();
      });
      asked.on('error', (error) => later('code' in error ? String(error.code) : error.constructor.name));
      asked.end(body);
    } catch (error) {
      later(error instanceof Error ? error.constructor.name : 'unknown');
    }
    return { posted, abort: () => later('stopped') };
  };

  close(): void {
    this.#secure.destroy();
    this.#plain.destroy();
  }
}

function outcomeOf({ statusCode = 0, headers }: IncomingMessage, wall: number): PushOutcome {
  if (statusCode >= 200 && statusCode < 300) return { is: 'taken' };
  if (statusCode === 404 || statusCode === 410) return { is: 'gone' };
  if (statusCode === 429 || statusCode >= 500) {
    return { is: 'later', afterMs: retryAfter(headers['retry-after'], wall), why: String(statusCode) };
  }
  return { is: 'refused', status: statusCode };
}

/** Seconds or a date (RFC 9110 §10.2.3); null for anything else. */
export function retryAfter(header: string | undefined, wall: number): Ms | null {
  if (header === undefined) return null;
  if (/^\d{1,9}$/.test(header.trim())) return Number(header) * 1_000;
  const at = Date.parse(header);
  return Number.isNaN(at) ? null : Math.max(0, at - wall);
}

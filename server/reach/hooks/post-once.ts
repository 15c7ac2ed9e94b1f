import { request as plain, type ClientRequest, type IncomingMessage, type RequestOptions } from 'node:http';
import { request as secure } from 'node:https';
import { isIP, type LookupFunction } from 'node:net';
import type { Ms } from '../../../core/time.ts';
import type { HookFault } from '../../../shared/hooks.ts';
import type { Timers } from '../../engine/timers.ts';
import { barred, hostOf, portOf, type OwnName } from './destination.ts';
import type { Names } from './names.ts';

/** One attempt. `answered` comes with the status. */
export type Posted =
  | { readonly outcome: 'delivered'; readonly status: number }
  | { readonly outcome: 'failed'; readonly why: HookFault; readonly status: number | null };

export interface Outgoing {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
}

export interface PostDeps {
  readonly names: Names;
  readonly own: OwnName;
  readonly timers: Timers;
  /** For looking up, connecting, sending and the first line of the answer together. */
  readonly withinMs: Ms;
}

/** Sends once and looks at nothing but the status: bodies are not read, redirects not followed. Never throws. */
export type Post = (out: Outgoing) => { readonly posted: Promise<Posted>; readonly abort: () => void };

export function poster(deps: PostDeps): Post {
  return (out) => {
    const attempt = new Attempt(out, deps);
    return { posted: attempt.posted, abort: () => attempt.end(failed('broken')) };
  };
}

const failed = (why: HookFault, status: number | null = null): Posted => ({ outcome: 'failed', why, status });

class Attempt {
  readonly posted: Promise<Posted>;
  readonly #deps: PostDeps;
  readonly #stopClock: () => void;
  #resolve: (posted: Posted) => void = () => undefined;
  #request: ClientRequest | null = null;
  #over = false;

  constructor(out: Outgoing, deps: PostDeps) {
    this.#deps = deps;
    this.posted = new Promise((resolve) => (this.#resolve = resolve));
    this.#stopClock = deps.timers.after(deps.withinMs, () => this.end(failed('timeout')));
    this.#send(out).catch((error: unknown) => this.end(failed(faultOf(error))));
  }

  /** The first end counts; whatever still goes on is cut. */
  end(posted: Posted): void {
    if (this.#over) return;
    this.#over = true;
    this.#stopClock();
    this.#request?.destroy();
    this.#resolve(posted);
  }

  async #send({ url: address, headers, body }: Outgoing): Promise<void> {
    const url = new URL(address);
    const host = hostOf(url);
    const port = portOf(url);
    const found = await this.#deps.names.find(host);
    const open = found.filter((one) => barred(one, port, this.#deps.own) === null);
    const [first] = found;
    if (this.#over) return;
    if (first === undefined) return this.end(failed('no-name'));
    if (open.length === 0) return this.end(failed(barred(first, port, this.#deps.own) ?? 'no-device'));
    const options: RequestOptions = {
      method: 'POST',
      headers: { ...headers, 'content-length': String(Buffer.byteLength(body)), connection: 'close' },
      agent: false,
      // What was judged is what is connected to: the name is not looked up a second time.
      lookup: always(open),
    };
    this.#request = (url.protocol === 'https:' ? secure : plain)(url, options);
    this.#request.on('response', (response: IncomingMessage) => this.#answered(response));
    this.#request.on('error', (error) => this.end(failed(faultOf(error))));
    this.#request.on('close', () => this.end(failed('broken')));
    this.#request.end(body);
  }

  #answered({ statusCode = 0 }: IncomingMessage): void {
    if (statusCode >= 200 && statusCode < 300) this.end({ outcome: 'delivered', status: statusCode });
    else this.end(failed(statusCode >= 300 && statusCode < 400 ? 'redirect' : 'answered', statusCode));
  }
}

/** Node asks for one address or for all, by version. */
function always(addresses: readonly string[]): LookupFunction {
  const all = addresses.map((address) => ({ address, family: isIP(address) }));
  return (_host, options, answer) => {
    const [first] = all;
    if (options.all === true) answer(null, all);
    else answer(null, first?.address ?? '', first?.family ?? 4);
  };
}

const byCode: readonly (readonly [RegExp, HookFault])[] = [
  [/^(ENOTFOUND|EAI_|ENODATA|ETIMEOUT|ESERVFAIL|EBADNAME|EREFUSED)/, 'no-name'],
  [/^ECONNREFUSED/, 'refused'],
  [/^(EHOSTUNREACH|ENETUNREACH|EHOSTDOWN|EADDRNOTAVAIL|EACCES|EPERM|ETIMEDOUT|EINVAL)/, 'unreachable'],
  [/^(ERR_TLS|ERR_SSL|EPROTO|CERT_|DEPTH_ZERO|SELF_SIGNED|UNABLE_TO)/, 'tls'],
];

/** By the code of the system, of the resolver or of TLS. */
export function faultOf(error: unknown): HookFault {
  const first = error instanceof AggregateError ? error.errors[0] : error;
  const code = first instanceof Error && 'code' in first ? String(first.code) : '';
  return byCode.find(([like]) => like.test(code))?.[1] ?? 'broken';
}

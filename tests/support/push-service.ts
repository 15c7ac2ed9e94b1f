import { createDecipheriv, createECDH, createHmac, createPublicKey, randomBytes, verify, type ECDH } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { PushMessage } from '../../shared/push.ts';

/*
 * A push service as RFC 8030 has it, on this machine, with the browsers behind it. It believes nothing: it checks who sends
 * (RFC 8292), what is said about delivery, and opens what was sealed (RFC 8291, RFC 8188) by Node's own primitives, so that
 * nothing of the sender's libraries judges itself.
 */

/** One browser's subscription and its private half. */
export interface Subscribed {
  readonly id: string;
  readonly endpoint: string;
  readonly keys: { readonly p256dh: string; readonly auth: string };
  readonly secrets: { readonly curve: ECDH; readonly auth: Buffer };
}

export interface Delivered {
  readonly id: string;
  readonly ttl: number;
  readonly urgency: string;
  readonly topic: string | null;
  readonly claims: { readonly aud: string; readonly exp: number; readonly sub: string };
  readonly message: PushMessage;
}

/** How it answers for one subscription; `hang`: never. */
export type Manner = 'take' | 'hang' | { readonly status: number; readonly headers?: Readonly<Record<string, string>> };

const hmac = (key: Buffer, ...parts: readonly Buffer[]): Buffer =>
  parts.reduce((mac, part) => mac.update(part), createHmac('sha256', key)).digest();
const info = (text: string): Buffer => Buffer.from(text, 'latin1');

/** Opens a body of one record: RFC 8291 §3.4, RFC 8188 §2. */
export function opened(body: Buffer, { curve, auth }: Subscribed['secrets']): Buffer {
  const salt = body.subarray(0, 16);
  const length = body[20] ?? 0;
  const theirs = body.subarray(21, 21 + length);
  const record = body.subarray(21 + length);
  const shared = curve.computeSecret(theirs);
  const prkKey = hmac(auth, shared);
  const ikm = hmac(prkKey, info('WebPush: info\0'), curve.getPublicKey(), theirs, info('\x01'));
  const prk = hmac(salt, ikm);
  const key = hmac(prk, info('Content-Encoding: aes128gcm\0\x01')).subarray(0, 16);
  const nonce = hmac(prk, info('Content-Encoding: nonce\0\x01')).subarray(0, 12);
  const cipher = createDecipheriv('aes-128-gcm', key, nonce).setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([cipher.update(record.subarray(0, -16)), cipher.final()]);
  const end = padded.lastIndexOf(0x02);
  if (end === -1 || padded.subarray(end + 1).some((byte) => byte !== 0)) throw new Error('no last record');
  return padded.subarray(0, end);
}

/** The claims of a VAPID header; throws where RFC 8292 is not kept. */
export function vouched(header: string | undefined, origin: string, nowSeconds: number): Delivered['claims'] {
  const [, token = '', key = ''] = /^vapid t=([\w-]+\.[\w-]+\.[\w-]+), ?k=([\w-]+)$/.exec(header ?? '') ?? [];
  const [head = '', body = '', signature = ''] = token.split('.');
  const json = (part: string) => JSON.parse(Buffer.from(part, 'base64url').toString()) as Record<string, unknown>;
  if (json(head)['alg'] !== 'ES256') throw new Error('not ES256');
  const raw = Buffer.from(key, 'base64url');
  if (raw.length !== 65 || raw[0] !== 4) throw new Error('not an uncompressed point');
  const [x, y] = [raw.subarray(1, 33), raw.subarray(33)].map((half) => half.toString('base64url'));
  const publicKey = createPublicKey({ format: 'jwk', key: { kty: 'EC', crv: 'P-256', x: x ?? '', y: y ?? '' } });
  const signed = Buffer.from(`${head}.${body}`);
  const how = { key: publicKey, dsaEncoding: 'ieee-p1363' } as const;
  if (!verify('sha256', signed, how, Buffer.from(signature, 'base64url'))) throw new Error('not signed by that key');
  const { aud, exp, sub } = json(body);
  if (aud !== origin) throw new Error(`meant for ${String(aud)}`);
  if (typeof exp !== 'number' || exp <= nowSeconds || exp > nowSeconds + 24 * 3_600)
    throw new Error('exp out of range');
  if (typeof sub !== 'string' || !/^(mailto:|https:)/.test(sub)) throw new Error('nobody answers for it');
  return { aud, exp, sub };
}

export class PushService {
  readonly delivered: Delivered[] = [];
  /** What it refused, in words. */
  readonly faults: string[] = [];
  asked = 0;
  readonly #server: Server;
  readonly #subscribed = new Map<string, Subscribed>();
  readonly #manners = new Map<string, Manner>();
  #watchers: (() => void)[] = [];

  private constructor(server: Server) {
    this.#server = server;
  }

  static async start(): Promise<PushService> {
    const server = createServer();
    const one = new PushService(server);
    server.on('request', (request: IncomingMessage, response: ServerResponse) => void one.#answer(request, response));
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return one;
  }

  get origin(): string {
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  subscribe(manner: Manner = 'take'): Subscribed {
    const curve = createECDH('prime256v1');
    curve.generateKeys();
    const auth = randomBytes(16);
    const id = randomBytes(9).toString('base64url');
    const keys = { p256dh: curve.getPublicKey('base64url'), auth: auth.toString('base64url') };
    const one = { id, endpoint: `${this.origin}/push/${id}`, keys, secrets: { curve, auth } };
    this.#subscribed.set(id, one);
    this.#manners.set(id, manner);
    return one;
  }

  behave({ id }: Subscribed, manner: Manner): void {
    this.#manners.set(id, manner);
  }

  /** What reached one browser. */
  of({ id }: Subscribed): readonly Delivered[] {
    return this.delivered.filter((one) => one.id === id);
  }

  /** Resolves once it holds; looked at after each request. */
  until(holds: () => boolean): Promise<void> {
    return new Promise((resolve) => {
      const look = (): void => {
        if (!holds()) return;
        this.#watchers = this.#watchers.filter((other) => other !== look);
        resolve();
      };
      this.#watchers.push(look);
      look();
    });
  }

  async close(): Promise<void> {
    this.#server.closeAllConnections();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  async #answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    this.asked += 1;
    const id = /^\/push\/([\w-]+)$/.exec(request.url ?? '')?.[1] ?? '';
    const manner = this.#manners.get(id) ?? { status: 404 };
    if (manner === 'take') this.#take(id, request, response, Buffer.concat(chunks));
    else if (manner !== 'hang') response.writeHead(manner.status, manner.headers).end();
    for (const look of this.#watchers) look();
  }

  #take(id: string, { method, headers }: IncomingMessage, response: ServerResponse, body: Buffer): void {
    const one = this.#subscribed.get(id);
    try {
      if (one === undefined || method !== 'POST') throw new Error('no such subscription');
      if (!/^\d+$/.test(String(headers['ttl']))) throw new Error('no TTL');
      if (headers['content-encoding'] !== 'aes128gcm') throw new Error('another encoding');
      if (body.length > 4_096) throw new Error('too large');
      const topic = headers['topic'] === undefined ? null : String(headers['topic']);
      if (topic !== null && !/^[\w-]{1,32}$/.test(topic)) throw new Error('not a topic');
      const claims = vouched(headers.authorization, this.origin, Date.now() / 1_000);
      const message = JSON.parse(opened(body, one.secrets).toString('utf8')) as PushMessage;
      this.delivered.push({
        id,
        ttl: Number(headers['ttl']),
        urgency: String(headers['urgency']),
        topic,
        claims,
        message,
      });
      response.writeHead(201, { location: `${this.origin}/message/${this.delivered.length}` }).end();
    } catch (error) {
      this.faults.push(String(error));
      response.writeHead(400).end();
    }
  }
}

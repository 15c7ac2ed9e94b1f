import { createHmac, randomBytes } from 'node:crypto';

/** Standard Webhooks 1.0.0, symmetric scheme: 24 to 64 random bytes, base64, behind this prefix. */
const PREFIX = 'whsec_';
const SECRET_BYTES = 32;

export function freshSecret(): string {
  return PREFIX + randomBytes(SECRET_BYTES).toString('base64');
}

export interface SignedParts {
  /** The same over all attempts; holds no full stop. */
  readonly id: string;
  /** Of this attempt, in whole seconds. */
  readonly timestamp: number;
  readonly body: string;
}

/** The three headers of the specification: HMAC-SHA256 over `id.timestamp.body`. */
export function signedHeaders(secret: string, { id, timestamp, body }: SignedParts): Record<string, string> {
  const key = Buffer.from(secret.slice(PREFIX.length), 'base64');
  const signature = createHmac('sha256', key).update(`${id}.${timestamp}.${body}`, 'utf8').digest('base64');
  return { 'webhook-id': id, 'webhook-timestamp': String(timestamp), 'webhook-signature': `v1,${signature}` };
}

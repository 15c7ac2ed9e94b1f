import { Webhook } from 'standardwebhooks';
import { describe, expect, it } from 'vitest';
import { freshSecret, signedHeaders } from '../../../../server/reach/hooks/standard-webhook.ts';

/** Source: the reference library of Standard Webhooks 1.0.0, `standardwebhooks` 1.1.1 from the npm registry. */
describe('signatures', () => {
  const body = JSON.stringify({ type: 'bell.rung', data: { label: 'Fenêtre 4 – “A”' } });
  const now = () => Math.floor(Date.now() / 1000);

  it('[R9] the reference library makes the very same signature', () => {
    const secret = freshSecret();
    const timestamp = 1_674_087_231;
    const headers = signedHeaders(secret, { id: 'msg_1', timestamp, body });
    expect(headers['webhook-signature']).toBe(new Webhook(secret).sign('msg_1', new Date(timestamp * 1000), body));
  });

  it('[R9] and verifies it; another body, id, time or secret it refuses', () => {
    const secret = freshSecret();
    const headers = signedHeaders(secret, { id: 'msg_1', timestamp: now(), body });
    const webhook = new Webhook(secret);
    expect(webhook.verify(body, headers)).toEqual(JSON.parse(body));
    expect(() => webhook.verify(`${body} `, headers)).toThrow();
    expect(() => webhook.verify(body, { ...headers, 'webhook-id': 'msg_2' })).toThrow();
    expect(() => webhook.verify(body, { ...headers, 'webhook-timestamp': String(now() - 1) })).toThrow();
    expect(() => new Webhook(freshSecret()).verify(body, headers)).toThrow();
    expect(() => webhook.verify(body, signedHeaders(secret, { id: 'msg_1', timestamp: now() - 900, body }))).toThrow();
  });

  it('[R9] a secret is 32 bytes behind whsec_, never twice the same', () => {
    const secrets = Array.from({ length: 50 }, freshSecret);
    expect(new Set(secrets).size).toBe(50);
    for (const one of secrets) {
      expect(one).toMatch(/^whsec_[A-Za-z0-9+/]{43}=$/);
      expect(Buffer.from(one.slice(6), 'base64')).toHaveLength(32);
    }
  });
});

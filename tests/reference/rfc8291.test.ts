import { createECDH } from 'node:crypto';
import { createRequire } from 'node:module';
import webPush from 'web-push';
import { describe, expect, test } from 'vitest';
import { sealed } from '../../server/reach/push/sealed.ts';
import { opened, vouched } from '../support/push-service.ts';

/** What web-push encrypts with; it is given salt and keys here, where web-push itself draws them. */
const { encrypt } = createRequire(import.meta.url)('http_ece') as {
  encrypt: (plain: Buffer, how: object) => Buffer;
};

/** RFC 8291 Appendix A, base64url as printed there. */
const published = {
  plaintext: 'When I grow up, I want to be a watermelon',
  asPrivate: 'yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw',
  asPublic: 'BP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A8',
  uaPrivate: 'q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94',
  uaPublic: 'BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4',
  auth: 'BTBZMqHH6r4Tts7J_aSIgg',
  salt: 'DGv6ra1nlYgDCS1FRnbzlw',
  recordSize: 4096,
  body: 'DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27mlmlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPTpK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN',
};
const bytes = (text: string): Buffer => Buffer.from(text, 'base64url');
const curveOf = (privateKey: string) => {
  const curve = createECDH('prime256v1');
  curve.setPrivateKey(bytes(privateKey));
  return curve;
};
const browser = { curve: curveOf(published.uaPrivate), auth: bytes(published.auth) };

describe('RFC 8291 Appendix A', () => {
  test('[R7] the public keys are those of the private ones', () => {
    expect(curveOf(published.asPrivate).getPublicKey('base64url')).toBe(published.asPublic);
    expect(browser.curve.getPublicKey('base64url')).toBe(published.uaPublic);
  });

  test('[R7] is encrypted byte for byte as printed', () => {
    const body = encrypt(Buffer.from(published.plaintext), {
      version: 'aes128gcm',
      dh: published.uaPublic,
      privateKey: curveOf(published.asPrivate),
      salt: published.salt,
      authSecret: published.auth,
      rs: published.recordSize,
    });
    expect(body.toString('base64url')).toBe(published.body);
  });

  test('[R7] is opened by the local push service, whose own steps these are', () => {
    expect(opened(bytes(published.body), browser).toString('utf8')).toBe(published.plaintext);
    const harmed = bytes(published.body);
    harmed[harmed.length - 1] = (harmed[harmed.length - 1] ?? 0) ^ 1;
    expect(() => opened(harmed, browser)).toThrow();
  });
});

describe('what leaves', () => {
  const keys = webPush.generateVAPIDKeys();
  const row = {
    device: 'device-01',
    person: 'person-ama',
    endpoint: 'https://push.example/send/abc',
    p256dh: published.uaPublic,
    auth: published.auth,
    madeAt: 0,
    confirmedAt: null,
  };
  const letter = { message: '{"web_push":8030}', topic: 'a-topic', usefulForMs: 300_000 };
  const sender = { ...keys, subject: 'mailto:owner@salon.example' };
  const now = Date.now() / 1_000;

  test('[R7] is sealed for that browser, with salt and key of its own each time (RFC 8291 §3.1)', () => {
    const [one, two] = [sealed(row, letter, sender), sealed(row, letter, sender)];
    expect(opened(one.body, browser).toString('utf8')).toBe(letter.message);
    expect(opened(two.body, browser).toString('utf8')).toBe(letter.message);
    expect(one.body.subarray(0, 16).equals(two.body.subarray(0, 16))).toBe(false);
    expect(one.body.subarray(21, 86).equals(two.body.subarray(21, 86))).toBe(false);
  });

  test('[R7] says how long it is of use, that it is urgent, and what it replaces (RFC 8030 §5)', () => {
    const { headers } = sealed(row, letter, sender);
    expect(headers).toMatchObject({ TTL: 300, Urgency: 'high', Topic: 'a-topic', 'Content-Encoding': 'aes128gcm' });
    // Never 0, for a phone in deep sleep would then lose it.
    expect(sealed(row, { ...letter, usefulForMs: 2_000 }, sender).headers).toMatchObject({ TTL: 30 });
    expect(sealed(row, { ...letter, topic: null }, sender).headers).not.toHaveProperty('Topic');
  });

  test('[R7] is signed by ES256 for that push service, for 12 h, with somebody to ask (RFC 8292 §2)', () => {
    const header = String(sealed(row, letter, sender).headers['Authorization']);
    const claims = vouched(header, 'https://push.example', now);
    expect(claims.sub).toBe('mailto:owner@salon.example');
    expect(Math.abs(claims.exp - now - 12 * 3_600)).toBeLessThan(5);
    expect(() => vouched(header, 'https://other.example', now)).toThrow('meant for');
    expect(() => vouched(header, 'https://push.example', now + 13 * 3_600)).toThrow('exp out of range');
    expect(() => vouched(header, 'https://push.example', now - 13 * 3_600)).toThrow('exp out of range');
    const [, token = '', key = ''] = /t=(\S+), k=(\S+)/.exec(header) ?? [];
    const another = webPush.generateVAPIDKeys().publicKey;
    expect(() => vouched(`vapid t=${token}, k=${another}`, 'https://push.example', now)).toThrow('not signed');
    expect(key).toBe(keys.publicKey);
  });
});

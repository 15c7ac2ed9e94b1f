import { z } from 'zod';
import { pushTroubles } from '../push.ts';
import { id, instant } from './basics.ts';

/** Real ones have some 200 to 400 characters. */
const ADDRESS = 1_000;

const base64url = (least: number, most: number) =>
  z
    .string()
    .min(least)
    .max(most)
    .regex(/^[A-Za-z0-9_-]+=*$/, 'base64url');

export const pushTold = z.strictObject({
  on: z.boolean(),
  publicKey: z.string().nullable(),
  contact: z.string().nullable(),
});

export const subscriptionWanted = z.strictObject({
  person: id,
  endpoint: z.url().max(ADDRESS),
  // 65 bytes of a public key and 16 of a secret (RFC 8291).
  keys: z.strictObject({ p256dh: base64url(87, 88), auth: base64url(22, 24) }),
});

export const subscriptionTold = z.strictObject({
  device: id,
  person: id,
  confirmedAt: instant.nullable(),
  trouble: z.enum(pushTroubles).nullable(),
});

export const pushReceipt = z.strictObject({ receipt: z.string().min(1).max(1_000) });
export const receiptHeard = z.strictObject({ outcome: z.enum(['shown', 'already']) });

export const pushTestWanted = z.strictObject({ device: id });
/** It is on its way and nobody waits for it: what came of it is told by the subscription. */
export const pushTestSent = z.strictObject({ outcome: z.literal('sending') });

import webPush from 'web-push';
import { z } from 'zod';
import type { ReachTables } from '../../store/reach-tables.ts';

/** Names this server to every push service (RFC 8292). Subscriptions are bound to the public one: it is made once and kept. */
export interface VapidKeys {
  readonly publicKey: string;
  readonly privateKey: string;
}

const NAME = 'push/vapid';
const stored = z.strictObject({ publicKey: z.string().min(1), privateKey: z.string().min(1) });

/** The kept keys, or new ones. Throws StorageError when new ones cannot be kept: they would be others after the next start. */
export function vapidKeys(tables: Pick<ReachTables, 'secret' | 'keepSecret'>): VapidKeys {
  const text = tables.secret(NAME);
  if (text !== null) return stored.parse(JSON.parse(text));
  const { publicKey, privateKey } = webPush.generateVAPIDKeys();
  tables.keepSecret(NAME, JSON.stringify({ publicKey, privateKey }));
  return { publicKey, privateKey };
}

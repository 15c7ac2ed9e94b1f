import webPush from 'web-push';
import { SECOND, type Ms } from '../../../core/time.ts';
import type { PushSubscriptionRow } from '../../store/reach-tables.ts';
import type { PushRequest } from './post-push.ts';
import type { VapidKeys } from './vapid.ts';

/** Who sends: the keys, and where a push service can ask about it (`sub` of RFC 8292: mailto: or https:). */
export interface Sender extends VapidKeys {
  readonly subject: string;
}

export interface Letter {
  readonly message: string;
  /** A push service that still holds an earlier one of the same topic replaces it (RFC 8030 §5.4). */
  readonly topic: string | null;
  readonly usefulForMs: Ms;
}

/** A push service that is told 0 delivers now or never, and a phone in deep sleep wants half a minute to wake. Seconds. */
const LEAST_TTL = 30;

/** The request as it leaves: encrypted for that one browser (RFC 8291), signed for 12 h (RFC 8292), urgent (RFC 8030 §5.3). */
export function sealed(row: PushSubscriptionRow, { message, topic, usefulForMs }: Letter, sender: Sender): PushRequest {
  const { endpoint, p256dh, auth } = row;
  const details = webPush.generateRequestDetails({ endpoint, keys: { p256dh, auth } }, message, {
    vapidDetails: sender,
    contentEncoding: 'aes128gcm',
    urgency: 'high',
    TTL: Math.max(LEAST_TTL, Math.round(usefulForMs / SECOND)),
    ...(topic === null ? {} : { topic }),
  });
  return { endpoint, headers: details.headers, body: details.body };
}

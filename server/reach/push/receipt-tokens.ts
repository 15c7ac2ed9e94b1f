import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { z } from 'zod';
import type { BellMeant } from '../../../core/bells/receipts.ts';
import type { DeviceId, PersonId } from '../../../core/ids.ts';
import type { EpochMs, Ms } from '../../../core/time.ts';
import { id, instant } from '../../../shared/schemas/basics.ts';
import { bellMeant } from '../../../shared/schemas/wire.ts';
import type { ReachTables } from '../../store/reach-tables.ts';
import { StorageError } from '../../store/store.ts';

const NAME = 'push/receipts';
/** A tag of 128 bits, as RFC 2104 allows. */
const TAG_BYTES = 16;

/** What a receipt is for; `bell` null: a test. */
export interface ReceiptFor {
  readonly device: DeviceId;
  readonly person: PersonId;
  readonly bell: BellMeant | null;
  /** Wall clock. */
  readonly sentAt: EpochMs;
}

const receiptFor = z.strictObject({ device: id, person: id, bell: bellMeant.nullable(), sentAt: instant });

export type ReadReceipt =
  { readonly is: 'ours'; readonly receipt: ReceiptFor } | { readonly is: 'unknown' } | { readonly is: 'too-old' };

/**
 * Receipts carry all that they say, sealed: nothing has to be remembered, so they count after a restart too, and nobody can
 * make one up. Each is worth something for as long as its push may still be shown.
 */
export class ReceiptTokens {
  readonly #secret: Buffer;
  readonly #goodFor: Ms;

  constructor(tables: Pick<ReachTables, 'secret' | 'keepSecret'>, goodFor: Ms) {
    this.#secret = Buffer.from(secretOf(tables), 'base64url');
    this.#goodFor = goodFor;
  }

  make(receipt: ReceiptFor): string {
    const body = Buffer.from(JSON.stringify(receipt)).toString('base64url');
    return `${body}.${this.#seal(body).toString('base64url')}`;
  }

  read(token: string, wall: EpochMs): ReadReceipt {
    const [body = '', seal = '', ...more] = token.split('.');
    const given = Buffer.from(seal, 'base64url');
    const ours = this.#seal(body);
    const genuine = more.length === 0 && given.length === ours.length && timingSafeEqual(given, ours);
    if (!genuine) return { is: 'unknown' };
    // Sealed by an earlier version, it may have another shape.
    const parsed = receiptFor.safeParse(JSON.parse(Buffer.from(body, 'base64url').toString('utf8')));
    if (!parsed.success) return { is: 'unknown' };
    // A wall clock that was stepped makes it older or younger than it is; either way it was shown, and soon is too old.
    if (Math.abs(wall - parsed.data.sentAt) > this.#goodFor) return { is: 'too-old' };
    return { is: 'ours', receipt: parsed.data };
  }

  #seal(body: string): Buffer {
    return createHmac('sha256', this.#secret).update(body).digest().subarray(0, TAG_BYTES);
  }
}

/** One that cannot be kept is as good until the next start: no bell waits for a disk. */
function secretOf(tables: Pick<ReachTables, 'secret' | 'keepSecret'>): string {
  const kept = tables.secret(NAME);
  if (kept !== null) return kept;
  const secret = randomBytes(32).toString('base64url');
  try {
    tables.keepSecret(NAME, secret);
  } catch (error) {
    if (!(error instanceof StorageError)) throw error;
  }
  return secret;
}

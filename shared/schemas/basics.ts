import { z } from 'zod';
import { ID_PATTERN } from '../protocol.ts';

/** Made by the sender: 8 to 64 of `A–Z a–z 0–9 _ -` (S8). */
export const id = z.string().regex(ID_PATTERN, 'an id of 8 to 64 letters, digits, _ or -');

/** Number of a chair or basin, 1 to 999. */
export const placeNumber = z.int().min(1).max(999);

/** An instant in epoch milliseconds, on the timescale unless said otherwise; integers only. */
export const instant = z.int().min(0);

/** A span in milliseconds, never negative. */
export const span = z.int().min(0);

/** A word that people typed: trimmed, composed, of at least one and at most `most` UTF-16 units, no control characters. */
export const word = (most: number) =>
  z
    .string()
    .normalize('NFC')
    .trim()
    .min(1)
    .max(most)
    .regex(/^\P{Cc}*$/u, 'text without control characters');

/** Requests may leave out what they do not know; it is then null, as it always is on the way out. */
export const orNull = <T extends z.ZodType>(schema: T) => schema.nullable().default(null);

import { expect, test } from 'vitest';
import type { z } from 'zod';
import type { PushReceipt, PushTold, ReceiptHeard, SubscriptionTold, SubscriptionWanted } from '../../shared/push.ts';
import { pushTexts } from '../../shared/push-texts.ts';
import type * as push from '../../shared/schemas/push.ts';
import { bellKinds } from '../../core/bells/bell.ts';

/** Schemas are mutable where the types are readonly; that is no difference. */
type Plain<T> = T extends object ? { -readonly [K in keyof T]: Plain<T[K]> } : T;
type Same<A, B> = (<T>() => T extends A ? 1 : 2) extends <T>() => T extends B ? 1 : 2 ? true : false;
type Equal<S extends z.ZodType, T> = Same<Plain<z.infer<S>>, Plain<T>>;

/** Does not compile unless every entry is true: `npm run types` is where this test fails. */
const told = {
  told: true satisfies Equal<typeof push.pushTold, PushTold>,
  wanted: true satisfies Equal<typeof push.subscriptionWanted, SubscriptionWanted>,
  subscription: true satisfies Equal<typeof push.subscriptionTold, SubscriptionTold>,
  receipt: true satisfies Equal<typeof push.pushReceipt, PushReceipt>,
  heard: true satisfies Equal<typeof push.receiptHeard, ReceiptHeard>,
};

test('[R7] every wire schema about pushes is the type that both sides work with', () => {
  expect(Object.values(told).every(Boolean)).toBe(true);
});

test('[R7] every bell has its words, short enough for the first line of a notice, and an unknown language is English', () => {
  const { lang, texts } = pushTexts('en-GB');
  expect(lang).toBe('en');
  // About 40 characters stand beside an icon on a phone 360 px wide (common practice, no source).
  for (const kind of bellKinds) expect(texts.at('A12', texts.deeds[kind]).length).toBeLessThanOrEqual(44);
  expect(pushTexts('tlh').lang).toBe('en');
  expect(texts.times({ from: null, by: null })).toBeNull();
  expect(texts.times({ from: '14:30', by: null })).toBe('from 14:30');
});

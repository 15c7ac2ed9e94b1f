import type { PartPlace } from '../../../../core/directions/rules.ts';
import { numberText, numberTyped } from './minutes.ts';

/** Most parts that a plan may have (core/directions/check.ts). */
export const MOST_PARTS = 12;

/** One part as typed; shares in per cent. */
export interface PartDraft {
  place: PartPlace;
  share: string;
  ceiling: string;
}

/** Shares of equal size in per cent; the last takes what rounding leaves. */
export function equalShares(count: number): string[] {
  const each = Math.floor(10_000 / count) / 100;
  return Array.from({ length: count }, (_, i) => numberText(i < count - 1 ? each : 100 - each * (count - 1)));
}

export function withEqualShares(parts: readonly PartDraft[]): PartDraft[] {
  const shares = equalShares(Math.max(1, parts.length));
  return parts.map((part, i) => ({ ...part, share: shares[i] ?? part.share }));
}

/** What the shares come to, in per cent; what is no number counts as nothing. */
export function sumOfShares(parts: readonly PartDraft[]): number {
  const sum = parts.reduce((total, { share }) => {
    const typed = numberTyped(share);
    return total + (typed.kind === 'value' ? typed.value : 0);
  }, 0);
  // Typed with two decimals at most, so that sums of them are too.
  return Math.round(sum * 100) / 100;
}

/** The same proportions at 100 %, only when somebody asks for it: a share never changes by itself. */
export function withSharesScaled(parts: readonly PartDraft[]): PartDraft[] {
  const sum = sumOfShares(parts);
  if (sum <= 0) return [...parts];
  const shares = parts.map(({ share }) => {
    const typed = numberTyped(share);
    return typed.kind === 'value' ? Math.floor((typed.value * 10_000) / sum) / 100 : 0;
  });
  const largest = shares.indexOf(Math.max(...shares));
  const left = 100 - shares.reduce((total, share) => total + share, 0);
  return parts.map((part, i) => ({ ...part, share: numberText((shares[i] ?? 0) + (i === largest ? left : 0)) }));
}

/** Shares that were equal stay equal when a part comes or goes; typed ones are left alone. */
function sharedAs(before: readonly PartDraft[], after: readonly PartDraft[]): PartDraft[] {
  const shares = equalShares(Math.max(1, before.length));
  const wereEqual = before.every((part, i) => part.share === shares[i]);
  return wereEqual ? withEqualShares(after) : [...after];
}

const newPart = (place: PartPlace): PartDraft => ({ place, share: '', ceiling: '' });

/** So many parts, 1 to 12. New ones come last and go first, but before a hairline that ends the plan. */
export function withCount(parts: readonly PartDraft[], count: number): PartDraft[] {
  const last = parts[parts.length - 1];
  const hairline = last?.place === 'hairline' && count > 1 ? [last] : [];
  const body = parts.slice(0, parts.length - hairline.length);
  const wanted = count - hairline.length;
  const more = Array.from({ length: Math.max(0, wanted - body.length) }, () => newPart('other'));
  return sharedAs(parts, [...body.slice(0, wanted), ...more, ...hairline]);
}

export function without(parts: readonly PartDraft[], i: number): PartDraft[] {
  return sharedAs(
    parts,
    parts.filter((_, n) => n !== i),
  );
}

/** The hairline as the last part: it is begun last and comes off first, by a ceiling of its own. */
export function withHairline(parts: readonly PartDraft[]): PartDraft[] {
  return sharedAs(parts, [...parts, newPart('hairline')]);
}

/** One part moved up (−1) or down (1) in the order, with all that is its own. */
export function moved(parts: readonly PartDraft[], i: number, by: -1 | 1): PartDraft[] {
  const one = parts[i];
  const other = parts[i + by];
  if (one === undefined || other === undefined) return [...parts];
  return parts.map((part, n) => (n === i ? other : n === i + by ? one : part));
}

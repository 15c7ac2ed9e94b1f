/** The chairs one wall shows, and what it says of the others. */
export interface Shown<Chair> {
  readonly chairs: readonly Chair[];
  readonly others: readonly Chair[];
}

/** `?from=13`; anything that is no number begins at the first chair. */
export function fromNumber(query: string): number {
  const asked = Number(new URLSearchParams(query).get('from') ?? '');
  return Number.isFinite(asked) ? asked : 0;
}

/** Where the chairs of a wall begin: at the number asked for, or at the last one when there is none so high. */
export function firstShown(chairs: readonly { readonly number: number }[], from: number): number {
  const at = chairs.findIndex(({ number }) => number >= from);
  return at === -1 ? Math.max(0, chairs.length - 1) : at;
}

/** As many as fit from there on; the order is the salon's own and never changes. */
export function chairsShown<Chair extends { readonly number: number }>(
  chairs: readonly Chair[],
  from: number,
  fit: number,
): Shown<Chair> {
  const first = firstShown(chairs, from);
  const end = first + fit;
  return { chairs: chairs.slice(first, end), others: [...chairs.slice(0, first), ...chairs.slice(end)] };
}

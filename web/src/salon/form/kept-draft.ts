import type { Keep } from '../../state/keep.ts';

/**
 * Something half typed that outlives the page. Kept fields are laid over a blank form, so that one kept by an older
 * page still has every field of this one; what is no form at all is forgotten.
 */
export function readKept<T extends object>(keep: Keep, name: string, blank: T): T | null {
  try {
    const kept: unknown = JSON.parse(keep.read(`salon.${name}`) ?? 'null');
    if (typeof kept !== 'object' || kept === null || Array.isArray(kept)) return null;
    const known = Object.entries(kept).filter(
      ([key, value]) =>
        key in blank &&
        typeof value === typeof blank[key as keyof T] &&
        Array.isArray(value) === Array.isArray(blank[key as keyof T]),
    );
    return { ...blank, ...Object.fromEntries(known) };
  } catch {
    return null;
  }
}

export function writeKept(keep: Keep, name: string, draft: object | null): void {
  keep.write(`salon.${name}`, draft === null ? null : JSON.stringify(draft));
}

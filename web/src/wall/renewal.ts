/** What is known when a wall considers opening itself anew. */
export interface RenewalFacts {
  /** The server's page is built from other files than this one. */
  readonly newer: boolean;
  /** The server speaks another protocol: what is painted here cannot change any more. */
  readonly refused: boolean;
  /** No bell above NOTICE. */
  readonly quiet: boolean;
  /** How long it has been refused. */
  readonly refusedForMs: number;
  /** It has been opened anew already and has not been linked since. */
  readonly triedAlready: boolean;
}

/** A refused wall whose bells still stand waits so long: they are not the floor's any more. */
export const REFUSED_WAIT_MS = 30_000;

/** Only in a quiet moment, and once: a wall that opens itself for ever shows nothing. */
export function opensAnew({ newer, refused, quiet, refusedForMs, triedAlready }: RenewalFacts): boolean {
  if (triedAlready || (!newer && !refused)) return false;
  return quiet || (refused && refusedForMs >= REFUSED_WAIT_MS);
}

/** The scripts a page names, in order: their names carry a fingerprint of what is in them. */
export function scriptsNamed(html: string): string {
  return Array.from(html.matchAll(/<script[^>]*\bsrc="([^"]+)"/g), ([, src]) => src).join(' ');
}

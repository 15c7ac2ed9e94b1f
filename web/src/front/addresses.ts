/** `localhost`, `127.…`, `[::1]`: nobody else reaches such an address. */
export function isLoopback(hostname: string): boolean {
  return hostname === 'localhost' || hostname.endsWith('.localhost') || /^127\./.test(hostname) || hostname === '[::1]';
}

/**
 * The pocket's address for a phone: this page's own if others can reach it, else the first one the server names. Null
 * while the server listens to this computer only.
 */
export function pocketAddress(page: { origin: string; hostname: string }, addresses: readonly string[]): string | null {
  const base = isLoopback(page.hostname) ? addresses[0] : `${page.origin}/`;
  return base === undefined ? null : new URL('/pocket', base).href;
}

/** The model day may name this computer's own address; from a phone it is found where this page was. */
export function reachableFrom(page: { hostname: string }, url: string): string {
  const there = new URL(url);
  if (isLoopback(there.hostname) && !isLoopback(page.hostname)) there.hostname = page.hostname;
  return there.href;
}

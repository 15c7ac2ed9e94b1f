import { isIP } from 'node:net';

/** The names under which this server may be called; a page that got here by another name is not ours. */
export type HostNames = ReadonlySet<string>;

/** The name in a Host header or of an Origin, without port and brackets; null when there is none. */
export function nameOf(host: string | undefined): string | null {
  if (host === undefined || host === '') return null;
  try {
    return new URL(`http://${host}`).hostname.replace(/^\[|\]$/g, '').toLowerCase();
  } catch {
    return null;
  }
}

/**
 * Whether the Host header names this server: by address, or by a name it is known by. Stops pages of the internet
 * whose name was turned to an address of this network.
 */
export function calledByOwnName(host: string | undefined, names: HostNames): boolean {
  const name = nameOf(host);
  return name !== null && (isIP(name) !== 0 || names.has(name));
}

/** Browsers say whose page acts; anything else says nothing. A page acts only on the server that it came from. */
export function sameOrigin(origin: string | undefined, host: string | undefined): boolean {
  if (origin === undefined) return true;
  try {
    const { protocol, host: theirs } = new URL(origin);
    // By its own scheme: each leaves out another port.
    return (protocol === 'http:' || protocol === 'https:') && theirs === new URL(`${protocol}//${host ?? ''}`).host;
  } catch {
    return false;
  }
}

/** Whether a page came over this machine's own loopback: then nobody else's can (RFC 1122 §3.2.1.3, RFC 4291 §2.5.3, RFC 6761 §6.3). */
export function isLoopback(hostname: string): boolean {
  const host = hostname.toLowerCase().replace(/^\[|\]$/g, '');
  return host === 'localhost' || host.endsWith('.localhost') || host === '::1' || /^127(\.\d{1,3}){3}$/.test(host);
}

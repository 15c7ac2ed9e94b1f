import { networkInterfaces } from 'node:os';

/**
 * Where other devices of the salon's network find this machine: by the names of its certificate if it has one, for browsers
 * believe no other; then IPv4 first. Link-local ones only confuse.
 */
export function lanAddresses(port: number, names: readonly string[] | null = null): string[] {
  const all = Object.values(networkInterfaces()).flatMap((one) => one ?? []);
  const outside = all.filter(
    (one) => !one.internal && !one.address.startsWith('fe80') && !one.address.startsWith('169.254.'),
  );
  const v4 = outside.filter((one) => one.family === 'IPv4').map((one) => one.address);
  const v6 = outside.filter((one) => one.family === 'IPv6').map((one) => `[${one.address}]`);
  const hosts = [...(names ?? []).filter((name) => name !== 'localhost'), ...v4, ...v6];
  return hosts.map((host) => `${names === null ? 'http' : 'https'}://${host}:${port}/`);
}

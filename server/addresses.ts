import { networkInterfaces } from 'node:os';

/** Where other devices of the salon's network find this machine, IPv4 first; link-local ones only confuse. */
export function lanAddresses(port: number): string[] {
  const all = Object.values(networkInterfaces()).flatMap((one) => one ?? []);
  const outside = all.filter(
    (one) => !one.internal && !one.address.startsWith('fe80') && !one.address.startsWith('169.254.'),
  );
  const v4 = outside.filter((one) => one.family === 'IPv4').map((one) => one.address);
  const v6 = outside.filter((one) => one.family === 'IPv6').map((one) => `[${one.address}]`);
  return [...v4, ...v6].map((host) => `http://${host}:${port}/`);
}

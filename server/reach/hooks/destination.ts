import { BlockList, isIP } from 'node:net';
import { networkInterfaces } from 'node:os';
import type { HookFault } from '../../../shared/hooks.ts';
import type { HostNames } from '../../live/origin.ts';

/** What this server is called, so that a hook never leads back into it. */
export interface OwnName {
  /** Ports it listens on; known once it does. */
  readonly ports: () => readonly number[];
  readonly hostNames: HostNames;
  /** Addresses of this machine. */
  readonly addresses: () => readonly string[];
}

export function machineAddresses(): string[] {
  return Object.values(networkInterfaces()).flatMap((all) => (all ?? []).map(({ address }) => address));
}

const family = (address: string): 'ipv4' | 'ipv6' => (isIP(address) === 6 ? 'ipv6' : 'ipv4');

/**
 * Nothing that a lamp could have: multicast, broadcast, and the link-local range of IPv4, where rented machines tell their
 * own credentials to whoever asks.
 */
const noDevice = new BlockList();
noDevice.addSubnet('169.254.0.0', 16, 'ipv4');
noDevice.addSubnet('224.0.0.0', 3, 'ipv4');
noDevice.addSubnet('ff00::', 8, 'ipv6');

/** Every machine's way to itself; the unspecified address leads there too. */
const itself = new BlockList();
itself.addSubnet('127.0.0.0', 8, 'ipv4');
itself.addSubnet('0.0.0.0', 8, 'ipv4');
itself.addAddress('::1', 'ipv6');
itself.addAddress('::', 'ipv6');

/** Why nothing may be sent to this address; null where it may. Other ports of this machine are allowed: a relay may run beside us. */
export function barred(address: string, port: number, own: OwnName): HookFault | null {
  const kind = family(address);
  if (noDevice.check(address, kind)) return 'no-device';
  if (!own.ports().includes(port)) return null;
  const here = new BlockList();
  for (const one of own.addresses()) here.addAddress(one, family(one));
  return itself.check(address, kind) || here.check(address, kind) ? 'own-address' : null;
}

/** What is wanted instead of what was typed; null where a hook may have this address. Names are looked up at each sending. */
export function addressFault(typed: string, own: OwnName): string | null {
  const url = URL.canParse(typed) ? new URL(typed) : null;
  if (url === null || !/^https?:$/.test(url.protocol)) return 'an address that begins with http:// or https://';
  if (url.username !== '' || url.password !== '') return 'no name or password in it: each step is signed instead';
  const host = hostOf(url);
  const port = portOf(url);
  const named = own.hostNames.has(host) && own.ports().includes(port);
  const fault = isIP(host) === 0 ? null : barred(host, port, own);
  if (named || fault === 'own-address') return 'another address than this server’s own';
  return fault === null ? null : 'the address of a device';
}

/** Without brackets and the final dot of a full name. */
export function hostOf(url: URL): string {
  return url.hostname.replace(/^\[|\]$/g, '').replace(/\.$/, '');
}

export function portOf({ port, protocol }: URL): number {
  return port === '' ? (protocol === 'https:' ? 443 : 80) : Number(port);
}

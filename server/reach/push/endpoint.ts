import { lookup } from 'node:dns';
import { BlockList, isIP, type LookupFunction } from 'node:net';

/**
 * Whatever leads into the house or nowhere, by the registries of special-purpose addresses (RFC 6890): a subscription comes from a
 * page, and must not make this server call its neighbours.
 */
const inside = new BlockList();
for (const [net, bits] of [
  ['0.0.0.0', 8],
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['127.0.0.0', 8],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.0.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['224.0.0.0', 3],
] as const) {
  inside.addSubnet(net, bits, 'ipv4');
}
for (const [net, bits] of [
  ['::', 127],
  ['64:ff9b:1::', 48],
  ['fc00::', 7],
  ['fe80::', 10],
  ['ff00::', 8],
] as const) {
  inside.addSubnet(net, bits, 'ipv6');
}

const loopback = new BlockList();
loopback.addSubnet('127.0.0.0', 8, 'ipv4');
loopback.addAddress('::1', 'ipv6');

/** Names that no public resolver answers for (RFC 6761, 6762, 8375). */
const HOUSE_NAME = /(^|\.)(localhost|local|internal|lan|home\.arpa)$/;

const family = (address: string): 'ipv4' | 'ipv6' => (isIP(address) === 6 ? 'ipv6' : 'ipv4');

/** Addresses of IPv4 written as IPv6 are judged as what they are; BlockList does so by itself. */
export function isInside(address: string): boolean {
  return inside.check(address, family(address));
}

/** Why nothing is ever sent to an endpoint; null where it may be. Names are looked up, and judged, at each sending. */
export function endpointFault(endpoint: string, { loopbackToo }: { readonly loopbackToo: boolean }): string | null {
  const url = URL.canParse(endpoint) ? new URL(endpoint) : null;
  if (url === null) return 'an https address';
  const host = url.hostname.replace(/^\[|\]$/g, '').replace(/\.$/, '');
  if (loopbackToo && isIP(host) !== 0 && loopback.check(host, family(host))) return null;
  if (url.protocol !== 'https:') return 'an https address';
  if (url.username !== '' || url.password !== '') return 'an address without a name or password';
  const housed = isIP(host) === 0 ? !host.includes('.') || HOUSE_NAME.test(host) : isInside(host);
  return housed ? 'an address of a push service, outside this house' : null;
}

export class LeadsInside extends Error {}

/** Looks a name up and refuses it if any of its addresses lies in the house: a public name can lead anywhere. */
export const lookupOutside: LookupFunction = (host, options, answer) => {
  lookup(host, { ...options, all: true }, (error, found) => {
    if (error !== null) return answer(error, '', 0);
    const [first] = found;
    if (first === undefined || found.some(({ address }) => isInside(address))) {
      return answer(new LeadsInside(host), '', 0);
    }
    // Node asks for one address or for all, by version.
    if (options.all === true) answer(null, found);
    else answer(null, first.address, first.family);
  });
};

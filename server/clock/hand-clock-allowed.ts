import { isIPv4, isIPv6 } from 'node:net';

/** What a hand-driven clock is for; a floor at work never has one. */
export const handClockPurposes = ['tests', 'model-day'] as const;
export type HandClockPurpose = (typeof handClockPurposes)[number];

/** Whether an address to listen on can be reached from this machine alone. */
export function isLoopback(host: string): boolean {
  if (host === 'localhost') return true;
  if (isIPv4(host)) return host.startsWith('127.');
  return isIPv6(host) && new URL(`http://[${host}]`).hostname === '[::1]';
}

export class HandClockRefused extends Error {}

/** Throws, with a sentence, unless the server is reachable from this machine alone and started for tests or the model day. */
export function assertHandClockAllowed({ host, purpose }: { host: string; purpose: string | null }): void {
  if (!isLoopback(host)) {
    throw new HandClockRefused(`A clock moved by hand is refused on ${host}: only a server on loopback may have one.`);
  }
  if (!handClockPurposes.some((one) => one === purpose)) {
    throw new HandClockRefused('A clock moved by hand is refused: it is for tests and for the model day alone.');
  }
}

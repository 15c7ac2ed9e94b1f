import type { Keep } from './keep.ts';

export type RandomBytes = (into: Uint8Array<ArrayBuffer>) => Uint8Array<ArrayBuffer>;

/**
 * A version 4 UUID (RFC 9562 §5.4) for commands and devices. `crypto.randomUUID` does not exist on
 * plain-http pages of a local network, `getRandomValues` does.
 */
export function newId(fill: RandomBytes = (into) => crypto.getRandomValues(into)): string {
  const bytes = fill(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** Which device this is. Until devices are paired it is a name that the device gave itself. */
export function deviceId(keep: Keep, make: () => string = newId): string {
  const known = keep.read('device');
  if (known) return known;
  const made = make();
  keep.write('device', made);
  return made;
}

/** Who holds this phone: chosen by one touch until pairing exists; null before. */
export function heldBy(keep: Keep): string | null {
  return keep.read('person');
}

export function handTo(keep: Keep, person: string | null): void {
  keep.write('person', person);
}

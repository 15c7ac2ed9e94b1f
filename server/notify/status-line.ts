import type { StorageTrouble } from '../store/store.ts';

export interface Standing {
  readonly screens: number;
  readonly openVisits: number;
  readonly trouble: StorageTrouble | null;
  /** Whether something is kept in memory only. */
  readonly unsaved: boolean;
}

const troubles = {
  full: 'the disk is full',
  failing: 'the disk fails',
  readonly: 'the file cannot be written',
  corrupt: 'the file is damaged',
  busy: 'the file is in use by another program',
} as const satisfies Record<StorageTrouble, string>;

/** How the server stands, in one line. */
export function statusLine({ screens, openVisits, trouble, unsaved }: Standing): string {
  const said = [count(screens, 'screen linked', 'screens linked'), count(openVisits, 'visit open', 'visits open')];
  if (trouble !== null) said.push(troubles[trouble]);
  if (unsaved) said.push('NOT SAVED: kept in memory');
  return said.join(', ');
}

function count(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

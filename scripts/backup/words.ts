import type { Contents } from '../../server/backup/inspect.ts';
import type { NamedBackup } from '../../server/backup/backup-name.ts';

const MINUTE = 60_000;
const units = [
  { name: 'day', ms: 24 * 60 * MINUTE },
  { name: 'hour', ms: 60 * MINUTE },
  { name: 'minute', ms: MINUTE },
] as const;

const many = (count: number, one: string): string => `${count} ${one}${count === 1 ? '' : 's'}`;

/** In the largest unit that is whole at least once, rounded down. */
export function lasting(ms: number): string {
  const unit = units.find((one) => ms >= one.ms);
  return unit === undefined ? 'less than a minute' : many(Math.floor(ms / unit.ms), unit.name);
}

export function holding({ events, visits, openVisits }: Contents): string {
  const open = openVisits === 0 ? '' : `, ${openVisits} open`;
  return `${many(events, 'event')}, ${many(visits, 'visit')}${open}`;
}

/** The machine's own clock and zone: whoever types here sits before it. */
export const clock = (at: number): string =>
  new Date(at).toLocaleString('en-GB', { dateStyle: 'medium', timeStyle: 'short' });

export const aged = ({ at }: NamedBackup, now: number): string => `${clock(at)}, ${lasting(Math.max(0, now - at))} old`;

import type { BackupTrouble, StorageTrouble } from '../../../../shared/wire.ts';
import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** Copies of the data, and the disk it lies on. Whoever reads this may be in a hurry: what to do comes with it. */
export const salonBackups = {
  /** At the chair and in the pocket. */
  damaged: 'Data damaged: only bells, water and burns go on. Restore a backup: npm run restore',
  lead: 'While something changes, a backup is made every hour and when the salon falls quiet. Each is checked before it counts.',
  modelDay: 'The model day is made anew each time it starts, so nothing of it is backed up.',
  never: 'No backup has been made yet.',
  made: (ago: string, clock: string) => `The last backup was made ${ago}, at ${clock}.`,
  minutesAgo: (n: number) => (n < 1 ? 'just now' : one(n, { one: 'a minute ago', other: `${n} minutes ago` })),
  hoursAgo: (n: number) => one(n, { one: 'an hour ago', other: `${n} hours ago` }),
  daysAgo: (n: number) => one(n, { one: 'a day ago', other: `${n} days ago` }),
  kept: (n: number) => one(n, { one: '1 backup is kept in', other: `${n} backups are kept in` }),
  rule: 'Kept are all of the last 24 hours, the last of each day for 30 days, and the last of each month for a year.',
  sameDisk:
    'That is the disk of the data itself: if it breaks, both are gone. Name a folder on another disk when you start the server:',
  sameDiskCommand: 'npm start -- --backups DIR',
  unheard: 'Where they lie cannot be asked just now.',
  restoreTitle: 'To go back to a backup',
  restore: 'Stop the server, and type on its machine:',
  restoreList: 'npm run restore',
  restoreNewest: 'npm run restore -- newest',
  restoreAfter:
    'The first lists what there is, the second puts the newest in place. What it replaces is kept beside it. What happened after the backup is lost, and the command says how much that is.',
  troubles: {
    folder: 'The folder for backups cannot be reached: is its disk plugged in? It is tried again every five minutes.',
    full: 'The disk for backups is full. It is tried again every five minutes.',
    failing: 'The last backup could not be made. It is tried again every five minutes.',
    unverified: 'The last backup did not pass its check and was thrown away. It is tried again in five minutes.',
  } satisfies Record<Exclude<BackupTrouble, 'none-yet'>, string>,
  /** The data itself. */
  storage: {
    full: 'The disk of the data is full. Make room: what is kept in memory is stored by itself then.',
    failing: 'The disk of the data fails. What is kept in memory is stored by itself once it works again.',
    readonly: 'The data file may not be written to. What is kept in memory is stored by itself once it may.',
    busy: 'Another program holds the data file. What is kept in memory is stored by itself once it lets go.',
    corrupt: 'The data file is damaged. Nothing more is written to it. Restore a backup, as below.',
  } satisfies Record<StorageTrouble, string>,
  damagedAt: (clock: string) => `This was found at ${clock}.`,
} as const;

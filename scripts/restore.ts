/** `npm run restore`: lists the backups; with a name, a file or `newest` it puts one in place of the data. */
import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { backupsIn, newestUsable } from '../server/backup/backups.ts';
import { inspect } from '../server/backup/inspect.ts';
import { restore, type Restored } from '../server/backup/restore.ts';
import { DataFileError } from '../server/store/data-file-error.ts';
import { OptionRefused, optionsOf, type Options } from './backup/options.ts';
import { aged, clock, holding, lasting } from './backup/words.ts';

const say = (sentence: string): void => console.log(`· ${sentence}`);

function list({ backups }: Options, now: number): void {
  const all = backupsIn(backups);
  if (all.length === 0) return say(`There is no backup in ${backups}.`);
  say(`Backups in ${backups}, newest first:`);
  for (const backup of all) {
    const found = inspect(join(backups, backup.name), 'glance');
    console.log(`  ${backup.name}  ${aged(backup, now)}; ${found.usable ? holding(found.contents) : found.what}`);
  }
  say('Put one in place, with the server stopped: npm run restore -- newest, or the name of one.');
}

function chosen({ named, backups }: Options): string {
  if (named === 'newest') {
    const found = newestUsable(backups);
    if (found === null) throw new OptionRefused(`No usable backup was found in ${backups}. Nothing was changed.`);
    return join(backups, found.backup.name);
  }
  const here = join(backups, named ?? '');
  return existsSync(here) ? here : resolve(named ?? '');
}

/** What the replaced file had that the backup has not; told, because somebody must write it in again. */
function lost({ replaced, contents, aside }: Restored): string {
  if (aside === null) return 'There was no data before, so nothing is lost.';
  if (replaced === null)
    return 'The replaced file cannot be read, so what came after the backup cannot be counted: it is lost.';
  const events = replaced.events - contents.events;
  if (events <= 0) return 'The replaced file held nothing that the backup has not.';
  const span = (replaced.aliveAt ?? 0) - (contents.aliveAt ?? 0);
  const until = replaced.aliveAt === null ? '' : `, until ${clock(replaced.aliveAt)}`;
  const what = events === 1 ? '1 event' : `${events} events`;
  return `Lost is what came after the backup: ${what} in ${lasting(span)}${until}.`;
}

async function putInPlace(options: Options, now: number): Promise<void> {
  const from = chosen(options);
  const done = await restore({ data: options.data, backups: options.backups, from, now });
  const until = done.contents.aliveAt === null ? '' : `, as it was at ${clock(done.contents.aliveAt)}`;
  say(`${from} is in place${until}: ${holding(done.contents)}.`);
  if (done.aside !== null) say(`What it replaced is kept as ${join(options.data, done.aside)}.`);
  say(lost(done));
  if (done.erased > 0) say(`What was erased since then was erased again (${done.erased}).`);
  say('The screens will show the floor as it was then: look at every head by hand before you go on by them.');
  say('Now start the server: npm start');
}

try {
  const options = optionsOf(process.argv.slice(2), process.env);
  const now = Date.now();
  if (options.named === null) list(options, now);
  else await putInPlace(options, now);
} catch (error) {
  const known = error instanceof DataFileError || error instanceof OptionRefused;
  console.error(known ? `✗ ${error.message}` : error);
  process.exit(1);
}

/** `npm run backup`: one backup now, checked, whether the server runs or not. */
import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { backUp } from '../server/backup/back-up.ts';
import { backupName } from '../server/backup/backup-name.ts';
import { markedDamage } from '../server/store/damage.ts';
import { erasuresOf, shareErasures } from '../server/store/erasures.ts';
import { wrongAtSight } from '../server/store/file-header.ts';
import { dataFileName } from '../server/store/file-names.ts';
import { Reads } from '../server/store/reads.ts';
import { isZone } from '../server/zones/temporal-zone.ts';
import { OptionRefused, optionsOf, type Options } from './backup/options.ts';
import { holding } from './backup/words.ts';

/** Null if a backup stands; else why not, in a sentence. */
async function backupNow({ data, backups, own }: Options): Promise<string | null> {
  const file = join(data, dataFileName);
  const damage = markedDamage(data)?.what ?? wrongAtSight(file);
  if (damage !== null) return `${file} is damaged (${damage}): no backup of it is made. See npm run restore.`;
  if (!existsSync(file)) return `There is no data in ${data} yet.`;
  if (own) mkdirSync(backups, { recursive: true });
  if (!existsSync(backups)) return `The backup folder ${backups} is missing. Plug its disk in, or make it.`;
  const db = new SqliteDatabase(file, { readonly: true, fileMustExist: true });
  try {
    const { floor, seq } = new Reads(db).opened();
    const zone = isZone(floor.salon.zone) ? floor.salon.zone : 'UTC';
    const name = backupName(Date.now(), zone, seq);
    const made = await backUp(db, { folder: backups, name });
    if (!made.verified) return `The copy did not pass its check (${made.what}) and was thrown away.`;
    shareErasures(erasuresOf(data), backups);
    console.log(`· ${join(backups, name)}: ${holding(made.contents)}, checked.`);
    return null;
  } finally {
    db.close();
  }
}

try {
  const refusal = await backupNow(optionsOf(process.argv.slice(2), process.env));
  if (refusal !== null) {
    console.error(`✗ ${refusal}`);
    process.exit(1);
  }
} catch (error) {
  console.error(error instanceof OptionRefused ? `✗ ${error.message}` : error);
  process.exit(1);
}

import SqliteDatabase, { type Database } from 'better-sqlite3';
import { migrations } from '../../server/store/migrations/migrations.ts';

const columns = (db: Database) => db.prepare<[], string>("SELECT name FROM pragma_table_info('bell')").pluck().all();
const tables = (db: Database) =>
  db
    .prepare<[], string>(
      "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
    )
    .pluck()
    .all();

/** Takes away all that came after the first shape: the file is then as the first version left it, with its data. */
export function toFirstShape(db: Database): void {
  const first = new SqliteDatabase(':memory:');
  first.exec(migrations[0]?.sql ?? '');
  for (const name of columns(db)) if (!columns(first).includes(name)) db.exec(`ALTER TABLE bell DROP COLUMN ${name}`);
  for (const name of tables(db)) if (!tables(first).includes(name)) db.exec(`DROP TABLE ${name}`);
  db.pragma('user_version = 1');
  if (`${columns(db)}|${tables(db)}` !== `${columns(first)}|${tables(first)}`) throw new Error('another shape');
  first.close();
}

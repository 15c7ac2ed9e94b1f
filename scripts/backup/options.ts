import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';

const root = fileURLToPath(new URL('../..', import.meta.url));

export interface Folders {
  readonly data: string;
  readonly backups: string;
  /** The folder of backups is the one within the data's, and may be made. */
  readonly own: boolean;
}

export interface Options extends Folders {
  /** What was named besides flags. */
  readonly named: string | null;
}

/** What was asked for cannot be meant; the message is a sentence. */
export class OptionRefused extends Error {}

/** Flags and environment as the server takes them. */
export function optionsOf(args: readonly string[], environment: Readonly<Record<string, string | undefined>>): Options {
  const { values, positionals } = parsed(args);
  if (positionals.length > 1) throw new OptionRefused(`One name is enough; ${positionals.length} were given.`);
  const data = resolve(root, values.data ?? environment['BASINBELL_DATA'] ?? 'data');
  const folder = values.backups ?? environment['BASINBELL_BACKUPS'];
  const backups = folder === undefined ? join(data, 'backups') : resolve(root, folder);
  return { data, backups, own: folder === undefined, named: positionals[0] ?? null };
}

function parsed(args: readonly string[]): { values: { data?: string; backups?: string }; positionals: string[] } {
  try {
    const options = { data: { type: 'string' }, backups: { type: 'string' } } as const;
    return parseArgs({ args: [...args], options, strict: true, allowPositionals: true });
  } catch (error) {
    const why = error instanceof Error ? error.message.split('. ')[0] : String(error);
    throw new OptionRefused(`${why}. Known are --data and --backups.`);
  }
}

import { DataFileError } from '../store/data-file-error.ts';
import { markerName } from '../store/damage.ts';
import { dataFileName } from '../store/file-names.ts';
import { newestUsable } from './backups.ts';

/** Opens what lies in the data folder; when it is damaged the error says what to do. */
export function orAdvise<T>(folders: { readonly data: string; readonly backups: string }, open: () => T): T {
  try {
    return open();
  } catch (error) {
    throw withAdvice(error, folders);
  }
}

/** What to do about a damaged data file, added to what is wrong: the newest backup that can be used and the exact command. */
function withAdvice(error: unknown, folders: { readonly data: string; readonly backups: string }): unknown {
  if (!(error instanceof DataFileError) || error.fault !== 'damaged') return error;
  return new DataFileError('damaged', `${error.message} ${adviceFor(folders)}`, error);
}

/** Names the folders to `npm run restore`; a path with blanks is quoted. */
export function restoreFlags({ data, backups }: { readonly data: string; readonly backups: string }): string {
  const quoted = (path: string): string => (/\s/.test(path) ? `"${path}"` : path);
  return `--data ${quoted(data)} --backups ${quoted(backups)}`;
}

function adviceFor({ data, backups }: { readonly data: string; readonly backups: string }): string {
  const found = newestUsable(backups);
  if (found === null) {
    return (
      `No usable backup was found in ${backups}. ` +
      `To begin with an empty salon instead, move ${dataFileName}, ${dataFileName}-wal and ${markerName} out of ${data}.`
    );
  }
  const { backup } = found;
  const at = new Date(backup.at).toISOString().slice(0, 16).replace('T', ' ');
  return (
    `The newest usable backup is ${backup.name} (of ${at} UTC). ` +
    `Put it in place with: npm run restore -- newest ${restoreFlags({ data, backups })} – then start again.`
  );
}

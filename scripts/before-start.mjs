/** What has to be in place before the server starts: a folder to write in, and pages no older than their sources. */
import { accessSync, constants, existsSync, mkdirSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { giveUp, npm, root, say } from './setting-up.mjs';

/** What the pages are made of: a change in any of it makes the build stale. */
const PAGE_SOURCES = ['web', 'core', 'shared', 'package-lock.json'];
const NOT_SOURCES = new Set(['dist', 'node_modules']);

/** @param {string[]} args @returns {string} the folder that the server will use, as server/config.ts decides it */
export const dataFolder = (args, /** @type {string | undefined} */ fromEnvironment) => {
  const at = args.findLastIndex((arg) => arg === '--data' || arg.startsWith('--data='));
  const named = at < 0 ? undefined : args[at]?.includes('=') ? args[at].slice('--data='.length) : args[at + 1];
  return resolve(root, named ?? fromEnvironment ?? 'data');
};

/** Asked before the long work, so that nobody waits for an installation and then hears no. */
export const checkDataFolder = (/** @type {string} */ folder) => {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.R_OK | constants.W_OK | constants.X_OK);
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
    giveUp(
      `The data folder ${folder} cannot be written (${code}). ` +
        'Give this user the right to write there, or name another folder: npm start -- --data DIR',
    );
  }
};

/** @returns {number} when the youngest file (or folder: a deletion shows there) was changed, epoch ms */
export const newestChange = (/** @type {string} */ path) => {
  const stat = statSync(path, { throwIfNoEntry: false });
  if (!stat) return 0;
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path, { withFileTypes: true })
    .filter((entry) => !NOT_SOURCES.has(entry.name))
    .map((entry) => join(path, entry.name))
    .reduce((newest, child) => Math.max(newest, childChange(child)), 0);
};

const childChange = (/** @type {string} */ path) => {
  const stat = statSync(path, { throwIfNoEntry: false });
  return stat?.isDirectory() ? Math.max(stat.mtimeMs, newestChange(path)) : (stat?.mtimeMs ?? 0);
};

export const ensureBuilt = async () => {
  const page = join(root, 'web/dist/index.html');
  const builtAt = existsSync(page) ? statSync(page).mtimeMs : 0;
  const changedAt = Math.max(...PAGE_SOURCES.map((source) => newestChange(join(root, source))));
  if (builtAt > changedAt) return say('The pages are built.');
  say(builtAt ? 'The pages have changed since they were built: building them again …' : 'Building the pages …');
  if ((await npm(['run', '--silent', 'build'])) !== 0) giveUp('The pages could not be built; the reason is above.');
};

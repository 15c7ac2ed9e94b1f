/** A Chromium for the end-to-end tests: the one that is there, else Debian's, else Playwright's own. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { giveUp, npm, onPath, run, say } from './setting-up.mjs';

const USUAL_NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'];

/** A file of that name is not enough: some systems put a stub there that only asks to install it. */
const versionOf = (/** @type {string} */ file) => {
  const answer = spawnSync(file, ['--version'], { encoding: 'utf8', timeout: 20_000 });
  return answer.status === 0 ? (answer.stdout.trim().split('\n').at(-1) ?? '') : null;
};

const found = () => {
  const named = process.env.BASINBELL_CHROMIUM;
  if (named) {
    if (versionOf(named) === null) giveUp(`BASINBELL_CHROMIUM names ${named}, but that does not start.`);
    return named;
  }
  for (const name of USUAL_NAMES) {
    const file = onPath(name);
    if (file && versionOf(file) !== null) return file;
  }
  return null;
};

const debianMayInstall = () =>
  process.getuid?.() === 0 && existsSync('/etc/debian_version') && onPath('apt-get') !== null;

const installDebians = async () => {
  say("No Chromium found: installing Debian's (apt-get) …");
  const env = { DEBIAN_FRONTEND: 'noninteractive' };
  await run('apt-get', ['update', '-q'], { env });
  await run('apt-get', ['install', '-y', '-q', '--no-install-recommends', 'chromium'], { env });
  return found();
};

/** @returns {Promise<string | null>} the file to start; null: Playwright knows where its own lies */
export const ensureChromium = async () => {
  const file = found() ?? (debianMayInstall() ? await installDebians() : null);
  if (file) {
    say(`Chromium for the end-to-end tests: ${file} (${versionOf(file)}).`);
    return file;
  }
  say("No Chromium found: fetching Playwright's own …");
  // The installation was told to leave browsers alone; this is the moment that is meant.
  const code = await npm(['exec', '--', 'playwright', 'install', 'chromium']);
  if (code === 0) return null;
  return giveUp(
    "No Chromium, and Playwright's own could not be fetched. Install one (Debian: apt-get install -y chromium), " +
      'or name one: BASINBELL_CHROMIUM=/path/to/chromium npm test',
  );
};

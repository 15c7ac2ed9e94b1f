/** What `npm start` and `npm test` need first. Plain JavaScript without packages: it runs before any is installed. */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { constants } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));

/** The least Node that vite, vitest and better-sqlite3 run on; package.json says the same under `engines`. */
const LEAST_NODE = [20, 19];

/** better-sqlite3 compiles from source where no prebuilt file can be fetched. */
const TOOLCHAIN = ['python3', 'make', 'g++'];

export const say = (/** @type {string} */ sentence) => console.log(`· ${sentence}`);

/** Ends the program with a sentence a person can act on instead of a stack trace. */
export const giveUp = (/** @type {string} */ sentence, code = 1) => {
  console.error(`✗ ${sentence}`);
  process.exit(code);
};

/** @param {string} version as in process.versions.node @returns {string | null} what is wrong */
export const nodeComplaint = (version) => {
  const [major = 0, minor = 0] = version.split('.').map(Number);
  const [leastMajor = 0, leastMinor = 0] = LEAST_NODE;
  if (major > leastMajor || (major === leastMajor && minor >= leastMinor)) return null;
  return `Node ${version} is too old: Basinbell needs Node ${LEAST_NODE.join('.')} or newer. Install a current long-term release and try again.`;
};

export const checkNode = () => {
  const complaint = nodeComplaint(process.versions.node);
  if (complaint) giveUp(complaint);
  say(`Node ${process.versions.node} will do.`);
};

/** @param {string} program @returns {string | null} where it lies on the PATH */
export const onPath = (program) => {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    if (folder && existsSync(join(folder, program))) return join(folder, program);
  }
  return null;
};

/**
 * @param {string} program
 * @param {string[]} args
 * @param {{ env?: Record<string, string>, limitMs?: number }} [options]
 * @returns {Promise<number>} the exit code, 128 + signal for a program that was stopped
 */
export const run = (program, args, { env = {}, limitMs } = {}) =>
  new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: root,
      stdio: 'inherit',
      env: { ...process.env, ...env },
      ...(limitMs ? { timeout: limitMs } : {}),
    });
    child.on('error', (error) => {
      console.error(`✗ ${program} could not be started: ${error.message}`);
      resolve(127);
    });
    child.on('exit', (code, signal) => resolve(code ?? 128 + (signal ? constants.signals[signal] : 0)));
  });

/** npm by the very file that started us, where there is one: another npm may be first on the PATH. */
export const npm = (/** @type {string[]} */ args, /** @type {Parameters<typeof run>[2]} */ options) => {
  const own = process.env.npm_execpath;
  return own ? run(process.execPath, [own, ...args], options) : run('npm', args, options);
};

const lockOf = (/** @type {string} */ file) => {
  try {
    return JSON.parse(readFileSync(join(root, file), 'utf8')).packages ?? {};
  } catch {
    return null;
  }
};

/**
 * Compares versions, not file times: a fresh checkout touches the lock file without changing it.
 * @param {Record<string, { version?: string, optional?: boolean, devOptional?: boolean }>} wanted
 * @param {Record<string, { version?: string }> | null} present
 */
export const missingPackages = (wanted, present) =>
  Object.entries(wanted)
    .filter(([path, entry]) => path !== '' && !entry.optional && !entry.devOptional)
    .filter(([path, entry]) => present?.[path]?.version !== entry.version)
    .map(([path]) => path.replace(/^.*node_modules\//, ''));

/** The one compiled package: present is not enough, it must fit this Node. */
const sqliteLoads = () =>
  spawnSync(process.execPath, ['-e', "new (require('better-sqlite3'))(':memory:').close()"], { cwd: root }).status ===
  0;

const toolchainComplaint = () => {
  const missing = TOOLCHAIN.filter((tool) => !onPath(tool));
  if (missing.length === 0) return null;
  return (
    `better-sqlite3 has to be compiled on this machine, and these are missing: ${missing.join(', ')}. ` +
    `On Debian and its relatives: apt-get install -y ${TOOLCHAIN.join(' ')}. Then try again.`
  );
};

const install = async () => {
  // The development tools too: the pages are built on this machine. Browsers are found or fetched by the tests alone.
  const code = await npm(['ci', '--include=dev', '--no-audit', '--no-fund'], {
    env: { PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD: '1' },
  });
  if (code === 0) return;
  giveUp(
    toolchainComplaint() ?? 'npm could not install the packages; its own words are above. Is the registry reachable?',
  );
};

export const ensureInstalled = async () => {
  const wanted = lockOf('package-lock.json');
  if (!wanted) giveUp('package-lock.json is missing or unreadable: this is not a whole copy of Basinbell.');
  const missing = missingPackages(wanted, lockOf('node_modules/.package-lock.json'));
  if (missing.length > 0) {
    say(`Installing ${missing.length} packages (npm ci); the first time this takes a minute or two …`);
    await install();
  } else {
    say('The packages are installed.');
  }
  if (sqliteLoads()) return;
  say('better-sqlite3 does not fit this Node yet: building it …');
  await npm(['rebuild', 'better-sqlite3']);
  if (sqliteLoads()) return;
  giveUp(toolchainComplaint() ?? 'better-sqlite3 was built but cannot be loaded: delete node_modules and try again.');
};

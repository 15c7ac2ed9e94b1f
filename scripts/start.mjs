/** `npm start`: installs, builds the pages, starts the server, and says which of these it is doing. */
import { spawn } from 'node:child_process';
import { constants } from 'node:os';
import { checkDataFolder, dataFolder, ensureBuilt } from './before-start.mjs';
import { checkNode, ensureInstalled, giveUp, root, say } from './setting-up.mjs';

const serve = (/** @type {string[]} */ args) => {
  say('Starting the server …');
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts', ...args], {
    cwd: root,
    stdio: 'inherit',
  });
  const passed = new Set();
  for (const signal of /** @type {const} */ (['SIGINT', 'SIGTERM', 'SIGHUP'])) {
    process.on(signal, () => {
      // npm and a terminal each deliver a signal to the whole family: the server must not take the echo for "hurry".
      if (passed.has(signal) || (signal === 'SIGINT' && process.stdin.isTTY)) return;
      passed.add(signal);
      child.kill(signal);
    });
  }
  child.on('error', (error) => giveUp(`The server could not be started: ${error.message}`));
  // Why it ended, the server has said itself.
  child.on('exit', (code, signal) => process.exit(code ?? 128 + (signal ? constants.signals[signal] : 0)));
};

const args = process.argv.slice(2);
checkNode();
checkDataFolder(dataFolder(args, process.env.BASINBELL_DATA));
await ensureInstalled();
await ensureBuilt();
serve(args);

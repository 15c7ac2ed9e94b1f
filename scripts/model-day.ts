/** `npm run model-day`: an invented teaching salon on its model day, on a server and a data file of its own. */
import { existsSync } from 'node:fs';
import { FolderRefused } from './model-day/folder.ts';
import { modelDay } from './model-day/day.ts';
import { ending } from './model-day/ending.ts';
import { OptionRefused, optionsOf } from './model-day/options.ts';

const say = (sentence: string): void => console.log(`· ${sentence}`);

function open(address: string): void {
  say(`The model day is open: ${address}`);
  say(`Its wall: ${new URL('wall', address).href}`);
  // Whoever started us with a channel waits for this.
  process.send?.({ url: address });
}

const built = new URL('../web/dist/index.html', import.meta.url);

try {
  if (!existsSync(built)) say('The pages are not built yet, so there will be nothing to look at: npm run build');
  await modelDay(optionsOf(process.argv.slice(2)), ending(), { say, open });
  process.exit(0);
} catch (error) {
  const known = error instanceof FolderRefused || error instanceof OptionRefused;
  console.error(known ? `✗ ${error.message}` : error);
  process.exit(1);
}

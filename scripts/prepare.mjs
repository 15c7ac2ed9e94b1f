/** What `npm start` does before it starts the server, by itself: packages and pages, for a server that is started by something else. */
import { ensureBuilt } from './before-start.mjs';
import { checkNode, ensureInstalled } from './setting-up.mjs';

checkNode();
await ensureInstalled();
await ensureBuilt();

import { openScreen } from '../state/open-screen.ts';
import { browserTimers } from '../state/timers.ts';
import Front from './Front.svelte';
import { reachableFrom } from './addresses.ts';
import { FrontFacts, fetchJson } from './front-facts.svelte.ts';

const facts = new FrontFacts(fetchJson, browserTimers);
facts.follow();
const open = (url: string): void => location.assign(reachableFrom(location, url));
openScreen(Front, { facts, ask: fetchJson, page: location, open });

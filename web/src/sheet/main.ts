import { openScreen } from '../state/open-screen.ts';
import { Session } from '../state/session.svelte.ts';
import Sheet from './Sheet.svelte';

openScreen(Sheet, { session: new Session('floor', null), address: location.pathname });

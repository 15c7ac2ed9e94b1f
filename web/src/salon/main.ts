import { Session } from '../state/session.svelte.ts';
import { Hands } from '../state/hands.ts';
import { openScreen } from '../state/open-screen.ts';
import Salon from './Salon.svelte';

// Set-up is a quiet page: whatever rings, it rings elsewhere.
openScreen(Salon, {
  session: new Session('salon', null, (deps) => new Hands(deps)),
});

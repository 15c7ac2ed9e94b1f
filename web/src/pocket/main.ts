import { Hands } from '../state/hands.ts';
import { keepShell } from '../shell/registration.svelte.ts';
import { openScreen } from '../state/open-screen.ts';
import { Session } from '../state/session.svelte.ts';
import Pocket from './Pocket.svelte';

// It rings for whoever holds it, for what asks them; held by nobody it sounds nothing.
openScreen(Pocket, {
  session: new Session('floor', 'pocket', (deps) => new Hands(deps)),
});
keepShell();

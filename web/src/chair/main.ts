import { Hands } from '../state/hands.ts';
import { keepShell } from '../shell/registration.svelte.ts';
import { openScreen } from '../state/open-screen.ts';
import { Session } from '../state/session.svelte.ts';
import Chair from './Chair.svelte';

// A chair's tablet is looked at by whoever stands there; the wall and the phones do the ringing.
openScreen(Chair, {
  session: new Session('floor', 'chair', (deps) => new Hands(deps)),
  address: location.pathname,
});
keepShell();

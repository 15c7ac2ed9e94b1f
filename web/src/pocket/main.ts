import { Hands } from '../state/hands.ts';
import { keepShell } from '../shell/registration.svelte.ts';
import { openScreen } from '../state/open-screen.ts';
import { Session } from '../state/session.svelte.ts';
import Pocket from './Pocket.svelte';

// Whoever holds this phone counts as stylist and helper: it sounds what sounds. Held by nobody it sounds nothing.
openScreen(Pocket, {
  session: new Session(
    'floor',
    (_bell, session) => session.person !== null,
    (deps) => new Hands(deps),
  ),
});
keepShell();

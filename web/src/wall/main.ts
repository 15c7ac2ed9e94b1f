import { keepShell } from '../shell/registration.svelte.ts';
import { openScreen } from '../state/open-screen.ts';
import { Session } from '../state/session.svelte.ts';
import { theme, themeChoices } from '../state/theme.svelte.ts';
import { keepWatch } from './keep-watch.ts';
import { roomVoice } from './room-voice.ts';
import Wall from './Wall.svelte';

// Nobody touches a wall: what it looks like is said in its address.
const asked = new URLSearchParams(location.search).get('theme');
const choice = themeChoices.find((one) => one === asked);
if (choice) theme.choose(choice);

// Clients are not named to the room, and the wall sounds whatever sounds.
const session = new Session('floor-unlabelled', 'wall');
session.says = roomVoice(session);
openScreen(Wall, { session });
keepWatch(session);
keepShell();

import { openScreen } from '../state/open-screen.ts';
import Chair from './Chair.svelte';

openScreen(Chair, {});

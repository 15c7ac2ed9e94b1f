import { openScreen } from '../state/open-screen.ts';
import Front from './Front.svelte';

openScreen(Front);

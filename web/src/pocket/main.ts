import { openScreen } from '../state/open-screen.ts';
import Pocket from './Pocket.svelte';

openScreen(Pocket, {});

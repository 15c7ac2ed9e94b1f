import { openScreen } from '../state/open-screen.ts';
import Wall from './Wall.svelte';

openScreen(Wall);

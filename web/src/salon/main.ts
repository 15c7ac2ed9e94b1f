import { openScreen } from '../state/open-screen.ts';
import Salon from './Salon.svelte';

openScreen(Salon, {});

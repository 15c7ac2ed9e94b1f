import { mount } from 'svelte';
import '../../../web/src/styles/screen.css';
import Parts from './Parts.svelte';
import WallLook from './WallLook.svelte';

const asked = new URLSearchParams(location.search);
const theme = asked.get('theme');
if (theme) document.documentElement.dataset['theme'] = theme;
const target = document.getElementById('screen');
if (target) mount(asked.get('page') === 'wall' ? WallLook : Parts, { target });

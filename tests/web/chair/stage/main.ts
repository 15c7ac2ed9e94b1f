import { mount } from 'svelte';
import '../../../../web/src/styles/screen.css';
import type { RecordedOfVisit } from '../../../../shared/wire.ts';
import Chair from '../../../../web/src/chair/Chair.svelte';
import Pocket from '../../../../web/src/pocket/Pocket.svelte';
import Sheet from '../../../../web/src/sheet/Sheet.svelte';
import { StagedSession } from '../../stage/staged-session.svelte.ts';
import { keptScene } from './kept-scenes.ts';
import { scenes } from './scenes.ts';

const asked = new URLSearchParams(location.search);
const theme = asked.get('theme');
if (theme) document.documentElement.dataset['theme'] = theme;
const staged = new StagedSession((scenes[asked.get('scene') ?? 'apply'] ?? scenes['apply']!)());
const state = asked.get('state') ?? '';
if (state.includes('lost')) {
  Object.assign(staged.link, { phase: 'lost' });
  staged.confirmed = false;
  staged.silentForMs = 42_000;
}
if (state.includes('silent')) staged.link.reach = { people: [], walls: { sounding: 0, silent: 1 } };
// The record of a visit is answered from the same floor.
window.fetch = async (address) => {
  const id = String(address).split('/').pop() ?? '';
  const facts = staged.life.floor.visits[id]?.facts;
  if (facts === undefined) return new Response('{}', { status: 404 });
  const events = staged.life.log.filter((one) => one.stream === `visit/${id}`) as RecordedOfVisit[];
  return Response.json({ facts, words: {}, events });
};
Object.assign(window, { staged });
keptScene(staged, state);
const target = document.getElementById('screen');
const { session } = staged;
if (target && asked.get('screen') === 'pocket') {
  if (!state.includes('nobody')) staged.person = 'person-ama';
  if (state.includes('locked')) staged.sound = 'locked';
  mount(Pocket, { target, props: { session } });
} else if (target && asked.get('screen') === 'sheet') {
  mount(Sheet, { target, props: { session, address: `/sheet/${[...Object.keys(staged.life.floor.visits)].pop()}` } });
} else if (target) mount(Chair, { target, props: { session, address: asked.get('address') ?? '/chair/4' } });

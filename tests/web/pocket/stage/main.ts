import { mount } from 'svelte';
import '../../../../web/src/styles/screen.css';
import Pocket from '../../../../web/src/pocket/Pocket.svelte';
import { StagedSession } from '../../stage/staged-session.svelte.ts';
import { scenes } from './scenes.ts';

const asked = new URLSearchParams(location.search);
const theme = asked.get('theme');
if (theme) document.documentElement.dataset['theme'] = theme;
const life = (scenes[asked.get('scene') ?? 'apply'] ?? scenes['apply']!)();
const staged = new StagedSession(life);
staged.person = asked.get('person') ?? 'person-ama';
if (asked.has('lost')) {
  Object.assign(staged.link, { phase: 'lost' });
  staged.confirmed = false;
  staged.silentForMs = 42_000;
}
if (asked.has('muted')) staged.muteStanding(60_000);
if (asked.has('locked')) staged.sound = 'locked';
const people = Object.values(life.floor.people);
staged.link.reach = {
  people: people.map(({ id }) => ({ person: id, how: 'rings', sinceAt: life.now, mutedUntil: null })),
  walls: { sounding: 1, silent: 0 },
};
// The record of a visit is answered from the same floor.
window.fetch = async (address) => {
  const facts = staged.life.floor.visits[String(address).split('/').pop() ?? '']?.facts;
  return facts === undefined
    ? new Response('{}', { status: 404 })
    : Response.json({ facts, words: {}, events: staged.life.log.filter((one) => one.stream === `visit/${facts.id}`) });
};
Object.assign(window, { staged, pass: (minutes: number) => (life.pass(minutes), staged.show()) });
const target = document.getElementById('screen');
if (target) mount(Pocket, { target, props: { session: staged.session } });

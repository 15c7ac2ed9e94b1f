import { mount } from 'svelte';
import '../../../../web/src/styles/screen.css';
import type { ReachKind } from '../../../../shared/wire.ts';
import Wall from '../../../../web/src/wall/Wall.svelte';
import { StagedSession } from '../../stage/staged-session.svelte.ts';
import { stagedFloor } from './scenes.ts';

const asked = new URLSearchParams(location.search);
const number = (name: string, usual: number): number => Number(asked.get(name) ?? usual);
const theme = asked.get('theme');
if (theme) document.documentElement.dataset['theme'] = theme;
const life = stagedFloor({
  chairs: number('chairs', 8),
  basins: number('basins', 2),
  long: asked.has('long'),
  calm: asked.has('calm'),
  bells: asked.has('bells'),
  hair: asked.has('hair'),
  diagonalIn: number('inches', 43),
  distanceM: number('metres', 5),
});
const staged = new StagedSession(life);
const sound = asked.get('sound') as StagedSession['sound'] | null;
if (sound) staged.sound = sound;
if (asked.has('lost')) {
  staged.confirmed = false;
  staged.silentForMs = 74_000;
  (staged.link as { phase: string }).phase = asked.get('lost') || 'lost';
}
const mutedUntil = asked.has('muted') ? staged.now + 80_000 : null;
if (asked.has('bells') || asked.has('silent')) {
  const person = (id: string, how: ReachKind, muted: number | null = null) => ({
    person: `person-${id}`,
    how,
    sinceAt: staged.now,
    mutedUntil: muted,
  });
  staged.link.reach = {
    people: [
      person('ama', 'rings', mutedUntil),
      person('tomasz', 'shown'),
      person('ines', 'rings'),
      person('joss', 'no'),
    ],
    walls: { sounding: 1, silent: asked.has('silent') ? 2 : 0 },
  };
}
if (asked.has('nameless')) {
  const { salon } = staged.mirror.heard;
  if (salon?.kind === 'salon') {
    const facts = { ...salon.facts, room: { ...salon.facts.room, names: false } };
    staged.mirror.heard = { ...staged.mirror.heard, salon: { ...salon, facts } };
  }
}
if (asked.has('unsaved')) staged.link.unsaved = true;
if (asked.has('gap')) {
  const gap = { fromAt: staged.now - 30 * 60_000, toAt: staged.now - 23 * 60_000, why: 'restarted' as const };
  staged.mirror.heard = { ...staged.mirror.heard, gap: { kind: 'gap', facts: gap } };
}
const unlock = async (): Promise<string> => (staged.sound = 'on');
Object.assign(staged, { player: { unlock } });
const target = document.getElementById('screen');
if (target) mount(Wall, { target, props: { session: staged.session } });
Object.assign(window, { staged, pass: (minutes: number) => (life.pass(minutes), staged.show()) });

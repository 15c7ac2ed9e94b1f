import { mount } from 'svelte';
import Salon from '../../../../web/src/salon/Salon.svelte';
import '../../../../web/src/styles/screen.css';
import { theme } from '../../../../web/src/state/theme.svelte.ts';
import { MINUTE } from '../../../../core/time.ts';
import type { ReachKind, ReachTold } from '../../../../shared/wire.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';
import { freshStage, SalonStage } from './salon-stage.svelte.ts';

const asked = new URLSearchParams(location.search);
theme.follow(document.documentElement);
const wanted = asked.get('theme');
if (wanted === 'light' || wanted === 'dark') theme.choose(wanted);

function grown(): SalonStage {
  const life = FloorLife.salon();
  for (const number of [5, 6, 7, 8]) life.send({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
  life.send({ type: 'AddPerson', name: 'Tomasz', roles: ['senior', 'manager'] }, { id: 'person-tomasz' });
  life.send({ type: 'RetirePlace', number: 8 });
  life.send(
    {
      type: 'WriteDirections',
      directions: 'directions-1',
      name: 'Regular',
      source: 'leaflet, edition 3',
      rules: relaxer(),
    },
    { by: 'person-ama' },
  );
  life.send(
    { type: 'WriteDirections', directions: null, name: 'Soft wave', source: 'leaflet in the box', rules: perm() },
    { id: 'directions-2' },
  );
  life.send(
    { type: 'WriteDirections', directions: null, name: 'Toner 7', source: 'maker’s page, printed', rules: colour() },
    { id: 'directions-3' },
  );
  life.send({
    type: 'WriteService',
    service: null,
    name: 'Wave with toner',
    passes: ['directions-2', 'directions-3'],
    limits: [{ stage: 'prep', limitMs: 20 * MINUTE }],
  });
  const stage = new SalonStage(life);
  stage.link.reach = reachOf(stage.now);
  return stage;
}

/** One of each kind. */
function reachOf(now: number): ReachTold {
  const of = (person: string, how: ReachKind, mutedUntil: number | null = null) => ({
    person,
    how,
    sinceAt: now - 12 * MINUTE,
    mutedUntil,
  });
  const people = [of('person-ama', 'rings', now + MINUTE), of('person-joss', 'push'), of('person-tomasz', 'no')];
  return { people, walls: { sounding: 1, silent: 1 } };
}

const stage = asked.get('page') === 'all' ? grown() : freshStage();
Object.assign(window, { stage });
const target = document.getElementById('screen');
if (target) mount(Salon, { target, props: { session: stage.salonSession, host: asked.get('host') ?? 'localhost' } });

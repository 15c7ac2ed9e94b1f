import { expect, it } from 'vitest';
import { bellKinds } from '../../../core/bells/bell.ts';
import { bellLevels } from '../../../core/bells/level.ts';
import { roomVoice } from '../../../web/src/wall/room-voice.ts';
import { wallWords } from '../../../web/src/words/wall-words.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { FloorLife } from '../../support/floor-life.ts';

/** Chair 2, Ama's, applied within 15 min; `minutes` after noon, in a room that speaks or does not. */
function wall(minutes: number, spoken = true) {
  const life = FloorLife.salon();
  const visit = life.do({
    type: 'SeatVisit',
    chair: 2,
    service: 'service-1',
    stylist: 'person-ama',
    label: 'Mrs Lind',
  });
  life.do({ type: 'BeginApplication', chair: 2, visit, service: null });
  life.at(15);
  life.do({ type: 'FinishApplication', visit });
  life.at(minutes);
  const staged = new StagedSession(life);
  const { heard } = staged.mirror;
  const salon = heard['salon'];
  if (salon?.kind !== 'salon') throw new Error('no salon');
  const facts = { ...salon.facts, room: { ...salon.facts.room, spoken } };
  staged.mirror.heard = { ...heard, salon: { ...salon, facts } };
  return { staged, says: roomVoice(staged.session) };
}

it('[W4] the wall says the chair and the deed', () => {
  const { staged, says } = wall(28);
  const [standing] = staged.mirror.bells;
  expect(standing?.bell).toMatchObject({ kind: 'rinse', level: 'WARNING' });
  expect(says(standing!)).toBe('chair two, rinse now');
  expect(says(null)).toBe('this is a test');
});

it('[W4] nothing is said unless the salon wants it', () => {
  const { staged, says } = wall(28, false);
  expect(says(staged.mirror.bells[0]!)).toBeNull();
  expect(says(null)).toBeNull();
});

it('[W4] numbers are spoken, letters stay', () => {
  const { staged, says } = wall(28);
  const [standing] = staged.mirror.bells;
  const place = staged.mirror.heard['place/2'];
  if (place?.kind !== 'place') throw new Error('no chair');
  staged.mirror.heard = { ...staged.mirror.heard, 'place/2': { ...place, label: 'W12' } };
  expect(says(standing!)).toBe('chair W twelve, rinse now');
  const { number } = wallWords().spokenBells;
  expect([0, 6, 13, 20, 21, 99, 100, 101, 340, 999].map(number)).toEqual([
    ...['zero', 'six', 'thirteen', 'twenty', 'twenty-one', 'ninety-nine', 'one hundred', 'one hundred and one'],
    ...['three hundred and forty', 'nine hundred and ninety-nine'],
  ]);
});

it('[W4] no sentence holds a word of level or a name', () => {
  const { staged, says } = wall(28);
  const [standing] = staged.mirror.bells;
  for (const kind of bellKinds) {
    for (const level of bellLevels) {
      const said = says({ ...standing!, bell: { ...standing!.bell, kind, level } })!.toLowerCase();
      expect(said).toMatch(/^chair two, /);
      for (const word of [...bellLevels, 'Ama', 'Joss', 'Lind']) expect(said).not.toContain(word.toLowerCase());
    }
  }
});

import { expect, test } from 'vitest';
import { agoText } from '../../../web/src/salon/form/ago.ts';
import { en } from '../../../web/src/words/en.ts';

const { backups } = en.salon;

test.each([
  [-5, 'just now'],
  [0.9, 'just now'],
  [1, 'a minute ago'],
  [59.9, '59 minutes ago'],
  [60, 'an hour ago'],
  [23 * 60 + 59, '23 hours ago'],
  [24 * 60, 'a day ago'],
  [72 * 60, '3 days ago'],
])('[R8] a copy of %d minutes ago is told as %s', (minutes, told) => expect(agoText(minutes, backups)).toBe(told));

test('[R8] every trouble says what is tried or wanted', () => {
  for (const said of [...Object.values(backups.troubles), ...Object.values(backups.storage)])
    expect(said).toMatch(/ .*\.$/);
});

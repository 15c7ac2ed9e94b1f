import { describe, expect, it } from 'vitest';
import { shownDrafts, type BellMeant, type Receipt } from '../../../core/bells/receipts.ts';
import { beginShifts } from '../../support/bell-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';

/** `rinse` at Ama's head at 27 min, Joss the helper; a bell of chair 4 and one of the floor beside it. */
function ringing() {
  const life = beginShifts(FloorLife.salon(), AMA, JOSS);
  life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
  beginShifts(life, 'person-sena');
  const visit = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: AMA, label: null }, { by: AMA });
  life.do({ type: 'BeginApplication', chair: 2, visit, service: null }, { by: AMA });
  life.at(15).do({ type: 'FinishApplication', visit }, { by: AMA });
  life.at(27);
  const bell: BellMeant = { visit, chair: null, cause: 'off', episode: 1, level: 'WARNING' };
  return { life, visit, bell };
}
const drafts = (life: FloorLife, ...receipts: Receipt[]) => shownDrafts(life.floor, receipts, life.now);

describe('a device shows a bell to whoever holds it', () => {
  it('[R7] is recorded at the bell’s subject, with who and now', () => {
    const { life, visit, bell } = ringing();
    expect(drafts(life, { person: AMA, bell })).toEqual([
      {
        stream: `visit/${visit}`,
        at: min(27),
        event: { type: 'BellShown', cause: 'off', episode: 1, level: 'WARNING', person: AMA },
      },
    ]);
  });

  it('[R7] of a chair and of the floor in the salon’s stream', () => {
    const { life } = ringing();
    life.do({ type: 'AskHelp', chair: 4 }, { by: JOSS });
    life.unsavedSince = min(27);
    life.at(27);
    const help: BellMeant = { visit: null, chair: 4, cause: 'help', episode: 1, level: 'CAUTION' };
    const floor: BellMeant = { visit: null, chair: null, cause: 'not-saved', episode: 1, level: 'WARNING' };
    const told = drafts(life, { person: 'person-sena', bell: help }, { person: JOSS, bell: floor });
    expect(told.map(({ stream, event }) => [stream, event])).toEqual([
      ['salon', expect.objectContaining({ type: 'FloorBellShown', chair: 4, person: 'person-sena' })],
      ['salon', expect.objectContaining({ type: 'FloorBellShown', chair: null, person: JOSS })],
    ]);
  });

  it('[R7] replayed it says nothing, in the same breath or later', () => {
    const { life, bell } = ringing();
    const receipt = { person: AMA, bell };
    expect(drafts(life, receipt, receipt)).toHaveLength(1);
    life.receive([receipt]);
    expect(drafts(life, receipt)).toEqual([]);
    expect(drafts(life, { person: JOSS, bell })).toHaveLength(1);
  });

  it.each([
    ['another level', { level: 'NOTICE' }],
    ['a level it has not come to', { level: 'DANGER' }],
    ['an earlier or later episode', { episode: 2 }],
    ['a cause that does not stand', { cause: 'pace' }],
    ['a visit nobody knows', { visit: 'visit-unknown' }],
    ['a chair instead', { visit: null, chair: 2 }],
    ['a chair nobody knows', { visit: null, chair: 77 }],
    ['the floor instead', { visit: null, chair: null }],
  ] as const)('[R7] for %s it says nothing', (_what, changes) => {
    const { life, bell } = ringing();
    expect(drafts(life, { person: AMA, bell: { ...bell, ...changes } })).toEqual([]);
  });

  it('[R7] nor of somebody who is not asked, nor for a NOTICE', () => {
    const { life, bell } = ringing();
    expect(drafts(life, { person: 'person-sena', bell })).toEqual([]);
    expect(drafts(life, { person: 'person-nobody', bell })).toEqual([]);
    const quiet = ringing();
    const before = FloorLife.salon();
    expect(drafts(before, { person: AMA, bell })).toEqual([]);
    quiet.life.do({ type: 'BeginRinse', chair: 2, visit: quiet.visit, basin: 91 }, { by: AMA });
    quiet.life.at(33);
    const water: BellMeant = { ...quiet.bell, cause: 'water', level: 'NOTICE' };
    expect(quiet.life.bells(quiet.visit)).toEqual(['water NOTICE #1']);
    expect(drafts(quiet.life, { person: AMA, bell: water })).toEqual([]);
  });

  it('[R7] late is better than never: whoever was marked as not reached is reached', () => {
    const { life, visit, bell } = ringing();
    life.reach = { nobodySince: null, pushOnly: [] };
    life.at(27.2);
    expect(life.facts(visit).bells[0]?.unreached).toContain(JOSS);
    life.receive([{ person: JOSS, bell }]);
    expect(life.facts(visit).bells[0]).toMatchObject({ shown: [{ person: JOSS, at: min(27.2) }] });
    expect(life.facts(visit).bells[0]?.unreached).not.toContain(JOSS);
  });

  it('[R7] out of order: one for a lesser level that comes after the bell has risen is dropped', () => {
    const { life, visit, bell } = ringing();
    life.at(30);
    expect(life.bells(visit)).toEqual(['over DANGER #1']);
    expect(drafts(life, { person: AMA, bell })).toEqual([]);
    expect(drafts(life, { person: AMA, bell: { ...bell, level: 'DANGER' } })).toHaveLength(1);
  });
});

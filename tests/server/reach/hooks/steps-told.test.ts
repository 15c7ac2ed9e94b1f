import { describe, expect, it } from 'vitest';
import { documentOf } from '../../../../server/reach/hooks/hook-document.ts';
import { bellCounts, stepsTold } from '../../../../server/reach/hooks/steps-told.ts';
import { hookDocument } from '../../../../shared/schemas/hooks.ts';
import { bell, floorWith, NOON, recorded } from './kit.ts';

const VISIT = 'visit/visit-0001' as const;
const rung = { type: 'BellRung', cause: 'off', kind: 'rinse', level: 'WARNING', episode: 2, dueAt: NOON - 500 };
const ringing = { ...rung, circle: 0, helper: 'person-joss' };
const shown = { cause: 'off', episode: 1, level: 'WARNING', person: 'person-ama' };
const calm = floorWith({});

describe('steps of bells as told outside', () => {
  it('[R9] every step is told in order with its reason, its bell and its chair', () => {
    const told = stepsTold(
      [
        recorded(VISIT, ringing, NOON + 1),
        recorded(VISIT, { type: 'BellWidened', cause: 'off', episode: 2, circle: 1, why: 'untaken' }, NOON + 2),
        recorded(VISIT, { type: 'BellPassed', cause: 'off' }, NOON + 3),
        recorded(VISIT, { ...shown, type: 'BellNotReached', episode: 2 }, NOON + 4),
        recorded(VISIT, { type: 'BellTaken', cause: 'off' }, NOON + 5),
        recorded(VISIT, { type: 'BellEnded', cause: 'off', episode: 2, why: 'deed-done' }, NOON + 6),
      ],
      { before: calm, after: calm },
    );
    expect(told.map(({ step, why, at, bell: of }) => [step, why, at - NOON, of?.circle])).toEqual([
      ['rung', null, 1, 0],
      ['widened', 'untaken', 2, 1],
      ['passed', null, 3, 1],
      ['not_reached', null, 4, 1],
      ['taken', null, 5, 1],
      ['ended', 'deed-done', 6, 1],
    ]);
    for (const one of told) {
      expect(one.subject).toEqual({ chair: 4, label: 'F' });
      expect(one.bell).toMatchObject({
        kind: 'rinse',
        level: 'WARNING',
        episode: 2,
        dueAt: NOON - 500,
        rungAt: NOON + 1,
      });
    }
  });

  it('[R9] a bell that is gone after the turn is told as it stood before it', () => {
    const before = floorWith({ visit: [bell({ kind: 'over', level: 'DANGER', episode: 3, rungAt: NOON - 9 })] });
    const ended = recorded(VISIT, { type: 'BellEnded', cause: 'off', episode: 3, why: 'deed-done' });
    const [told] = stepsTold([ended], { before, after: calm });
    expect(told?.bell).toMatchObject({ kind: 'over', level: 'DANGER', episode: 3, rungAt: NOON - 9 });
  });

  it('[R2] bells of a chair and of the floor carry their own subjects', () => {
    const before = floorWith({
      chair: [bell({ cause: 'help', kind: 'help', level: 'CAUTION' })],
      floor: [bell({ cause: 'not-saved', kind: 'not-saved', episode: 7 })],
    });
    const told = stepsTold(
      [
        recorded('salon', { type: 'FloorBellTaken', chair: 4, cause: 'help' }),
        recorded('salon', { type: 'FloorBellTaken', chair: null, cause: 'not-saved' }),
        recorded('salon', {
          ...ringing,
          type: 'FloorBellRung',
          chair: null,
          cause: 'nobody-reached',
          kind: 'nobody-reached',
        }),
      ],
      { before, after: before },
    );
    expect(
      told.map(({ step, subject, bell: of }) => [step, subject.chair, subject.label, of?.kind, of?.episode]),
    ).toEqual([
      ['taken', 4, 'F', 'help', 1],
      ['taken', null, null, 'not-saved', 7],
      ['rung', null, null, 'nobody-reached', 2],
    ]);
  });

  it('[R7] what is no step of a bell, and whom one was shown to, is not told', () => {
    const events = [
      recorded(VISIT, { ...shown, type: 'BellShown' }),
      recorded('salon', { ...shown, type: 'FloorBellShown', chair: null }),
      recorded(VISIT, { type: 'RinseBegun', basin: 91, owed: [] }),
      recorded('people', { type: 'PersonRetired', person: 'person-ama' }),
    ];
    expect(stepsTold(events, { before: calm, after: calm })).toEqual([]);
  });

  it('[R9] the document holds codes, numbers and instants of the salon’s clock, and nobody’s name or id', () => {
    const events = [
      recorded(VISIT, ringing),
      recorded(VISIT, { ...shown, type: 'BellNotReached', episode: 2 }),
      recorded(VISIT, { type: 'BellTaken', cause: 'off' }),
    ];
    const after = floorWith({ visit: [bell({ taken: { by: 'person-ama', at: NOON } })], civilOffsetMs: 60_000 });
    const documents = stepsTold(events, { before: calm, after }).map((step) => documentOf(step, after));
    for (const one of documents) expect(hookDocument.parse(one)).toEqual(one);
    expect(documents[0]).toMatchObject({
      type: 'bell.rung',
      timestamp: '2026-03-10T12:01:00.000Z',
      data: {
        subject: { of: 'chair', chair: 4, label: 'F' },
        dueAt: '2026-03-10T12:00:59.500Z',
        rungAt: '2026-03-10T12:01:00.000Z',
      },
    });
    const text = JSON.stringify(documents);
    for (const hidden of ['Ama', 'Mrs Invented', 'person-', 'visit-0001', 'device-', 'command-'])
      expect(text).not.toContain(hidden);
  });

  it('[R2] what stands is counted by level over heads, chairs and the floor, taken or not', () => {
    const floor = floorWith({
      visit: [bell({}), bell({ cause: 'burns', level: 'DANGER', taken: { by: 'person-ama', at: NOON } })],
      chair: [bell({ cause: 'help', level: 'CAUTION' })],
      floor: [bell({ cause: 'not-saved' })],
    });
    expect(bellCounts(floor)).toEqual({
      standing: { NOTICE: 0, CAUTION: 1, WARNING: 2, DANGER: 1 },
      untaken: { NOTICE: 0, CAUTION: 1, WARNING: 2, DANGER: 0 },
    });
  });
});

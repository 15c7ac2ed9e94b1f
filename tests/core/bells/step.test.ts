import { describe, expect, it } from 'vitest';
import { bellDrafts, draftAt, type BellStep } from '../../../core/bells/step.ts';

const ring = {
  do: 'ring',
  cause: 'off',
  kind: 'rinse',
  level: 'WARNING',
  episode: 2,
  dueAt: 5,
  circle: 1,
  helper: 'person-joss',
  why: 'begins',
} as const;
const bell = { cause: 'off', episode: 2 } as const;
type OfAny<S> = S extends unknown ? Omit<S, 'subject'> : never;
const steps: readonly (readonly [OfAny<BellStep>, object])[] = [
  [ring, { type: 'BellRung', ...bell, kind: 'rinse', level: 'WARNING', dueAt: 5, circle: 1, helper: 'person-joss' }],
  [
    { do: 'widen', ...bell, circle: 2, why: 'not-shown' },
    { type: 'BellWidened', ...bell, circle: 2, why: 'not-shown' },
  ],
  [
    { do: 'unreached', ...bell, level: 'WARNING', person: 'person-ama', why: 'not-shown' },
    { type: 'BellNotReached', ...bell, level: 'WARNING', person: 'person-ama' },
  ],
  [
    { do: 'end', ...bell, why: 'deed-done' },
    { type: 'BellEnded', ...bell, why: 'deed-done' },
  ],
];

describe('what is recorded of bells', () => {
  it.each(steps)('[R9] %j goes to the stream of its subject, now', (step, event) => {
    const of = (subject: BellStep['subject']) => bellDrafts([{ ...step, subject } as BellStep], 9);
    const type = `Floor${(event as { type: string }).type}`;
    expect(of('visit-a')).toEqual([{ stream: 'visit/visit-a', at: 9, event }]);
    expect(of('floor')).toEqual([{ stream: 'salon', at: 9, event: { ...event, type, chair: null } }]);
    expect(of(4)).toEqual([{ stream: 'salon', at: 9, event: { ...event, type, chair: 4 } }]);
  });

  it('[R9] in the order in which they are to be done', () => {
    const widen = { do: 'widen', subject: 'visit-a', ...bell, circle: 2, why: 'untaken' } as const;
    const types = bellDrafts([{ ...ring, subject: 'visit-a' }, widen], 9).map(({ event }) => event.type);
    expect(types).toEqual(['BellRung', 'BellWidened']);
  });

  it('[R9] what people say of a bell is kept where the bell is', () => {
    expect(draftAt(3, { type: 'BellPassed', cause: 'help' }, 9)).toEqual({
      stream: 'salon',
      at: 9,
      event: { type: 'FloorBellPassed', chair: 3, cause: 'help' },
    });
  });
});

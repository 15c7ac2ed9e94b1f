import { describe, expect, it } from 'vitest';
import { visitOf, visitStream } from '../../core/events.ts';
import { bellSteps, isBellStep, isMove, moveTypes } from '../../core/visit/events.ts';

describe('streams and kinds of events', () => {
  it('[S7] a visit has a stream of its own', () => {
    expect(visitOf(visitStream('abc'))).toBe('abc');
    expect((['salon', 'people', 'directions'] as const).map(visitOf)).toEqual([null, null, null]);
  });

  it('[X2] steps of bells are no moves', () => {
    for (const type of bellSteps) expect(isMove({ type })).toBe(false);
    for (const type of moveTypes) expect(isMove({ type })).toBe(true);
    expect(isMove({ type: 'StylistNamed' })).toBe(false);
    expect(isBellStep({ type: 'BellTaken', cause: 'off' })).toBe(true);
    expect(isBellStep({ type: 'LabelWritten' })).toBe(false);
  });
});

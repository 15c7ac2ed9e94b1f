import { describe, expect, it } from 'vitest';
import { longStage } from '../../../../core/bells/rules/long-stage.ts';
import { defaultFigures } from '../../../../core/salon/salon.ts';
import { MINUTE } from '../../../../core/time.ts';
import { facts, min, pass } from '../../../support/pass-kit.ts';

const limits = [
  { stage: 'prep', limitMs: 20 * MINUTE },
  { stage: 'finished', limitMs: 5 * MINUTE },
] as const;

describe('long stage', () => {
  it('[R2] stands from the service’s limit for the stage', () => {
    expect(longStage.from(facts('prep', pass(), { limits }, 4), defaultFigures)).toBe(min(24));
    expect(longStage.level(facts('prep'))).toBe('CAUTION');
  });

  it('[R2] has nothing to say where no limit is set, nor of a finished visit', () => {
    expect(longStage.from(facts('apply', pass(), { limits }), defaultFigures)).toBeNull();
    expect(longStage.from(facts('finished', pass(), { limits }), defaultFigures)).toBeNull();
  });
});

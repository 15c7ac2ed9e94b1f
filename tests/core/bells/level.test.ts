import { describe, expect, it } from 'vitest';
import { rankOf } from '../../../core/bells/level.ts';

describe('levels', () => {
  it('[R2] rise from NOTICE over CAUTION and WARNING to DANGER', () => {
    expect((['NOTICE', 'CAUTION', 'WARNING', 'DANGER'] as const).map(rankOf)).toEqual([0, 1, 2, 3]);
  });
});

import { describe, expect, it } from 'vitest';
import { indexOnWay, itinerary, stageOf, type Step } from '../../../../core/visit/stages/stage.ts';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';

const read = (way: readonly Step[]): string => way.map(({ stage, pass }) => `${stage}${pass}`).join(' ');

describe('the way through a visit', () => {
  it('[S1] prep, apply, process, rinse, the finishing steps in the directions’ order, dry, finished', () => {
    expect(read(itinerary([{ rules: relaxer() }]))).toBe(
      'prep0 apply0 process0 rinse0 neutralize0 condition0 dry0 finished0',
    );
    const turned = relaxer({ finishing: [...relaxer().finishing].reverse() });
    expect(read(itinerary([{ rules: turned }]))).toBe(
      'prep0 apply0 process0 rinse0 condition0 neutralize0 dry0 finished0',
    );
  });

  it('[S1] either finishing step may be absent', () => {
    expect(read(itinerary([{ rules: relaxer({ finishing: [] }) }]))).toBe(
      'prep0 apply0 process0 rinse0 dry0 finished0',
    );
    expect(read(itinerary([{ rules: colour() }]))).toContain('rinse0 condition0 dry0');
  });

  it('[S10] several passes in turn; dry and finished belong to the last', () => {
    expect(read(itinerary([{ rules: relaxer({ finishing: [] }) }, { rules: colour() }]))).toBe(
      'prep0 apply0 process0 rinse0 prep1 apply1 process1 rinse1 condition1 dry1 finished1',
    );
  });

  it('[S2] an unknown product has no finishing steps, nor has a visit of which no pass is known', () => {
    expect(read(itinerary([{ rules: null }]))).toBe('prep0 apply0 process0 rinse0 dry0 finished0');
    expect(read(itinerary([]))).toBe('prep0 apply0 process0 rinse0 dry0 finished0');
  });

  it('[S1] a step lies where stage and pass agree', () => {
    const way = itinerary([{ rules: colour() }, { rules: colour() }]);
    expect(indexOnWay(way, { stage: 'prep', pass: 1 })).toBe(5);
    expect(indexOnWay(way, { stage: 'rinse', pass: 0 })).toBe(3);
    expect(indexOnWay(way, { stage: 'neutralize', pass: 0 })).toBe(-1);
  });

  it('[S1] shampoos and neutralizer are both done in neutralize', () => {
    expect(relaxer().finishing.map(stageOf)).toEqual(['neutralize', 'condition']);
    expect(perm().finishing.map(stageOf)).toEqual(['neutralize', 'condition']);
  });
});

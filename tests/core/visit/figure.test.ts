import { describe, expect, it } from 'vitest';
import { figureSince, figureUntil, type Figure } from '../../../core/visit/figure.ts';

const text = (figure: Figure): string =>
  figure.form === 'minutes'
    ? `${figure.sign}${figure.minutes} min`
    : `${figure.sign}${figure.minutes}:${String(figure.seconds).padStart(2, '0')}`;
const left = (seconds: number): string => text(figureUntil(seconds * 1000));

describe('time left and over', () => {
  it.each([
    [600, '10 min'],
    [599.999, '10 min'],
    [541, '10 min'],
    [540, '9 min'],
    [361, '7 min'],
    [360, '6 min'],
    [301, '6 min'],
    [300.001, '6 min'],
    [300, '5:00'],
    [299.001, '5:00'],
    [299, '4:59'],
    [60, '1:00'],
    [59.5, '1:00'],
    [59, '0:59'],
    [1, '0:01'],
    [0.001, '0:01'],
    [0, '0:00'],
    [-0.999, '0:00'],
    [-1, '+0:01'],
    [-1.999, '+0:01'],
    [-59, '+0:59'],
    [-60, '+1:00'],
    [-300, '+5:00'],
    [-300.999, '+5:00'],
    [-301, '+5 min'],
    [-359, '+5 min'],
    [-360, '+6 min'],
  ])('[T6] %s s left reads %s', (seconds, words) => {
    expect(left(seconds)).toBe(words);
  });

  it('[T6] at the instant the figure is a plain zero, not a negative one', () => {
    expect(figureUntil(0)).toEqual({ form: 'clock', sign: '', minutes: 0, seconds: 0 });
    expect(figureUntil(-0)).toEqual({ form: 'clock', sign: '', minutes: 0, seconds: 0 });
  });
});

describe('time since', () => {
  it.each([
    [-5, '0:00'],
    [0, '0:00'],
    [0.999, '0:00'],
    [1, '0:01'],
    [300, '5:00'],
    [301, '5:01'],
    [3599.999, '59:59'],
    [3600, '60:00'],
  ])('[T6] %s s on hair read %s, always m:ss', (seconds, words) => {
    expect(text(figureSince(seconds * 1000))).toBe(words);
  });

  it('[T6] begins at a plain zero', () => {
    expect(figureSince(0)).toEqual({ form: 'clock', sign: '', minutes: 0, seconds: 0 });
  });
});

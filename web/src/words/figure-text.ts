import type { Figure } from '../../../core/visit/figure.ts';
import type { Words } from './words.ts';

/** Core's number in this language: "9 min", "1:50", "+0:48" (T6). The sign stands before the number everywhere. */
export function figureText(figure: Figure, { units }: Pick<Words, 'units'>): string {
  const size = figure.form === 'minutes' ? units.minutes(figure.minutes) : units.clock(figure.minutes, figure.seconds);
  return `${figure.sign}${size}`;
}

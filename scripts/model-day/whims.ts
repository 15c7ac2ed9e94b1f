import type { VisitId } from '../../core/ids.ts';
import { MINUTE, SECOND, type Ms } from '../../core/time.ts';
import { openingOf } from './opening.ts';
import { between, drawsFor, oneOf, type Draw } from './random.ts';
import { assistant, instructor } from './salon.ts';
import type { Temper } from './temper.ts';

/** Invented first names from here and there; at most 12 characters. */
const names = [
  ...['Nuru', 'Ilse', 'Bao', 'Zofia', 'Hana', 'Pilar', 'Ngozi', 'Aroha', 'Jonas', 'Meera', 'Yara', 'Leila', 'Sione'],
  ...['Maren', 'Chipo', 'Davit', 'Eira', 'Farid', 'Goran', 'Itzel', 'Kaede', 'Lupe', 'Malia', 'Noor', 'Oumar', 'Petra'],
] as const;

const services = [
  ...(['service-relaxing', 'service-relaxing', 'service-relaxing', 'service-perm'] as const),
  ...(['service-colour', 'service-colour', 'service-lightening'] as const),
] as const;

/** One student in seven is so slow that the window of a relaxer has no room left. */
function paceOf(draw: Draw): number[] {
  const kind = draw();
  const speed =
    kind < 1 / 7 ? between(draw, 1.4, 1.55) : kind < 1 / 3 ? between(draw, 0.7, 0.85) : between(draw, 0.85, 1.1);
  return [1, 2, 3, 4].map(() => speed * between(draw, 0.92, 1.08));
}

/** The same for the same seed and visit, whatever else happened that day. */
export function temperOf(seed: number, visit: VisitId): Temper {
  const draw = drawsFor(seed, visit);
  const minutes = (least: number, most: number): Ms => between(draw, least, most) * MINUTE;
  const seconds = (least: number, most: number): Ms => between(draw, least, most) * SECOND;
  const drawn: Temper = {
    service: oneOf(draw, services),
    label: oneOf(draw, names),
    pauseMs: minutes(2, 5),
    prepMs: minutes(4, 8),
    pace: paceOf(draw),
    share: between(draw, 0.15, 0.95),
    lateMs: draw() < 1 / 14 ? seconds(8, 40) : 0,
    takeMs: seconds(6, 18),
    goMs: seconds(25, 60),
    taker: oneOf(draw, [assistant, assistant, instructor]),
    rinseMoreMs: seconds(5, 50),
    dwellMoreMs: seconds(5, 30),
    neutralizerMs: minutes(3, 5),
    lastLatherColoured: draw() < 1 / 6,
    dryMs: minutes(9, 16),
  };
  return { ...drawn, ...openingOf(visit, draw) };
}

import type { VisitId } from '../../core/ids.ts';
import { MINUTE, SECOND, type Ms } from '../../core/time.ts';
import { modelOf, openingOf } from './opening.ts';
import { between, drawsFor, oneOf, type Draw } from './random.ts';
import { assistant, chairs, instructor } from './salon.ts';
import type { Temper } from './temper.ts';

/** Invented models' first names from here and there, none of somebody who works here; at most 9 characters. */
const names = [
  ...['Nuru', 'Ilse', 'Bao', 'Zofia', 'Hana', 'Pilar', 'Ngozi', 'Aroha', 'Jonas', 'Meera', 'Yara', 'Leila', 'Sione'],
  ...['Maren', 'Chipo', 'Davit', 'Eira', 'Farid', 'Goran', 'Itzel', 'Kaede', 'Lupe', 'Malia', 'Noor', 'Oumar', 'Petra'],
  ...['Quiana', 'Rashida', 'Sefa', 'Tove', 'Ulla', 'Vesna', 'Wairimu', 'Xiomara', 'Yusra', 'Zuri', 'Amaru', 'Brisa'],
  ...['Celal', 'Dilnoza', 'Esi', 'Fumiko', 'Gwen', 'Halima', 'Ivo', 'Jarek', 'Kirra', 'Ludo', 'Mirela', 'Nayra'],
] as const;

/**
 * No two models of a day have the same label: the seed shuffles the list, and each takes the next name as chairs go. Past the end of
 * the list, late on a long day, an initial tells them apart.
 */
function labelOf(seed: number, visit: VisitId): string {
  const { chair, model } = modelOf(visit) ?? { chair: 1, model: 1 };
  const draw = drawsFor(seed, 'names');
  const shuffled = names.map((name) => ({ name, at: draw() })).sort((a, b) => a.at - b.at);
  const nth = (model - 1) * chairs.length + (chair - 1);
  const name = shuffled[nth % names.length]?.name ?? names[0];
  const round = Math.floor(nth / names.length);
  return round === 0 ? name : `${name} ${String.fromCharCode(64 + round)}.`;
}

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
    label: labelOf(seed, visit),
    pauseMs: minutes(2, 5),
    prepMs: minutes(4, 8),
    readyMs: seconds(20, 70),
    pace: paceOf(draw),
    helps: draw() < 3 / 4,
    testMoreMs: seconds(8, 25),
    readyShare: between(draw, -0.4, 1.8),
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

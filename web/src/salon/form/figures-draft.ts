import { figureLimits, type Figures } from '../../../../core/salon/salon.ts';
import { faultAt, type FieldFault } from './fault.ts';
import { minutesText, minutesTyped } from './minutes.ts';

export const figureNames = Object.keys(figureLimits) as readonly (keyof Figures)[];

export type FiguresDraft = Record<keyof Figures, string>;

export function figuresDraftOf(figures: Figures): FiguresDraft {
  return Object.fromEntries(figureNames.map((name) => [name, minutesText(figures[name])])) as FiguresDraft;
}

export function readFigures(draft: FiguresDraft): {
  readonly figures: Figures | null;
  readonly faults: readonly FieldFault[];
} {
  const faults: FieldFault[] = [];
  const read = (name: keyof Figures): number => {
    const [least, most] = figureLimits[name];
    const typed = minutesTyped(draft[name]);
    if (typed.kind !== 'value') {
      faults.push(faultAt(name, typed.kind === 'empty' ? 'missing' : 'not-minutes'));
      return least;
    }
    if (typed.value < least || typed.value > most) {
      faults.push(faultAt(name, 'out-of-range', minutesText(least), minutesText(most)));
    }
    return typed.value;
  };
  const figures = Object.fromEntries(figureNames.map((name) => [name, read(name)])) as unknown as Figures;
  return { figures: faults.length === 0 ? figures : null, faults };
}

import type { BurnsPlace } from '../../../core/visit/visit.ts';

/** In the order in which they are asked. */
export const burnsPlaces = ['skin', 'eye'] as const satisfies readonly BurnsPlace[];

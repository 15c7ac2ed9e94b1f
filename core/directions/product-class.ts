import type { BellLevel } from '../bells/level.ts';

/** What the product does to hair, as far as the clock must know. `other` rings as thio does. */
export const productClasses = ['hydroxide', 'thio', 'lightener', 'colour', 'other'] as const;
export type ProductClass = (typeof productClasses)[number];

interface ClassTraits {
  /** Whether the directions must give a longest time on hair from first touch (E3). */
  readonly wantsCeiling: boolean;
  /** Level of `rinse` and of `over` (R2). */
  readonly rinse: BellLevel;
  readonly over: BellLevel;
}

export const classTraits = {
  hydroxide: { wantsCeiling: true, rinse: 'WARNING', over: 'DANGER' },
  thio: { wantsCeiling: true, rinse: 'WARNING', over: 'WARNING' },
  lightener: { wantsCeiling: true, rinse: 'WARNING', over: 'WARNING' },
  colour: { wantsCeiling: false, rinse: 'CAUTION', over: 'CAUTION' },
  other: { wantsCeiling: true, rinse: 'WARNING', over: 'WARNING' },
} as const satisfies Record<ProductClass, ClassTraits>;

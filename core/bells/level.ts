/**
 * Order of urgency, lowest first. The words are borrowed from the safety-sign standard ANSI Z535.4
 * as an order of urgency only; this is no medical alarm system.
 */
export const bellLevels = ['NOTICE', 'CAUTION', 'WARNING', 'DANGER'] as const;
export type BellLevel = (typeof bellLevels)[number];

/** Position in {@link bellLevels}; a higher rank is more urgent. */
export function rankOf(level: BellLevel): number {
  return bellLevels.indexOf(level);
}

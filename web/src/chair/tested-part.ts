import type { Pass, StrandPlace } from '../../../core/visit/visit.ts';

/** The part that a place of test means (E6): what was done first or last; the most porous one only people know. */
export function partAt(pass: Pass, place: StrandPlace): number | null {
  const done = [...pass.parts].sort((a, b) => a.doneAt - b.doneAt);
  if (place === 'porous') return null;
  return (place === 'first' ? done[0] : done[done.length - 1])?.part ?? null;
}

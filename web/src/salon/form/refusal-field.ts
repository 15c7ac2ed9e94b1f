import type { Problem } from '../../../../shared/problem.ts';

/** Which field of a form a refusal is about, named as the form names it; null: the whole. */
export function refusedField(problem: Pick<Problem, 'field'>): string | null {
  if (problem.field === null) return null;
  // Core says `rules.maxAfterMs:max-below-min`; a body that does not fit the schema says `rules.maxAfterMs`.
  const field = problem.field.split(':')[0] ?? '';
  return field.replace(/^(rules|figures|wall|room)\./, '') || null;
}

import type { Problem } from '../../../shared/problem.ts';
import type { Words } from '../words/words.ts';

/** Why it was refused and what to do: our own words for what the rules refuse, the server's sentence for the rest. */
export function refusalWords({ code, detail }: Problem, w: Words): string {
  const refusals: Readonly<Record<string, string>> = w.refusals;
  return refusals[code] ?? detail;
}

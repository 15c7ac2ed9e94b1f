import type { HookTested, HookTold } from '../../../../shared/hooks.ts';
import type { Problem } from '../../../../shared/problem.ts';
import type { Words } from '../../words/words.ts';

type HookWords = Words['salon']['reach']['hooks'];

const whyOf = (say: HookWords, { why, status }: Pick<NonNullable<HookTold['failing']>, 'why' | 'status'>): string =>
  say.why[why](String(status ?? ''));

/** How it stands with one hook, in sentences. `clock`: an instant as people read it. */
export function hookState(hook: HookTold, say: HookWords, clock: (at: number) => string): readonly string[] {
  if (!hook.on) return [say.isOff];
  const { failing, deliveredAt, waiting } = hook;
  if (failing === null) {
    const now = deliveredAt === null ? say.unused : say.delivered(clock(deliveredAt));
    return waiting === 0 ? [now] : [now, say.waiting(waiting)];
  }
  return [
    say.failing(clock(failing.sinceAt), whyOf(say, failing)),
    ...(failing.givenUp === 0 ? [] : [say.givenUp(failing.givenUp)]),
    ...(waiting === 0 ? [] : [say.waiting(waiting)]),
  ];
}

/** What came of a test. */
export function testSaid(tested: HookTested, say: HookWords): string {
  switch (tested.outcome) {
    case 'delivered':
      return say.tested.delivered(String(tested.status), String(tested.afterMs));
    case 'failed':
      return say.tested.failed(whyOf(say, tested));
    case 'waiting':
      return tested.behind === 0 ? say.tested.slow : say.tested.waiting(tested.behind);
    default: {
      const none: never = tested;
      return none;
    }
  }
}

/** Which sentence a refusal is, and beside which field it stands; null: beside the button. */
export function hookRefusal(
  problem: Problem | null,
  say: HookWords,
): { readonly field: string | null; readonly text: string } {
  if (problem === null) return { field: null, text: say.refused.lost };
  if (problem.code === 'invalid-body' && problem.field === 'url') return { field: 'url', text: say.refused.url };
  if (problem.code === 'out-of-range') return { field: null, text: say.refused.full };
  if (problem.code === 'not-found') return { field: null, text: say.refused.gone };
  if (problem.code === 'again') return { field: null, text: say.refused.again };
  return { field: problem.field, text: problem.detail };
}

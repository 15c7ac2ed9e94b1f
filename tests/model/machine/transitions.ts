import { assign } from 'xstate';
import type { Head, Offer } from './head.ts';
import { ring } from './ringing.ts';
import type { Heard, Line, Said, SaidType } from './said.ts';

export interface World {
  now: number;
  head: Head | null;
  serials: number;
  answer: string;
  offers: Offer[];
}

/** The refusal in words of S7: others acted since the sender looked, or it never fitted. */
function refusal(world: World, said: Said, code: string): string {
  if (code !== 'does-not-fit') return code;
  const stale = said.seen !== null && world.head !== null && said.seen < world.head.acts;
  return stale ? 'moved-on' : 'wrong-stage';
}

/** One line as xstate transitions: one per stage it may lead to. */
export function transitionsOf(line: Line<SaidType>) {
  const holds = (world: World, said: Said) =>
    world.head !== null && (line.when === undefined || line.when(world.head, said as never, world.now));
  if (line.act === undefined) {
    return [
      {
        guard: ({ context, event }: { context: World; event: Heard }) => holds(context, event as Said),
        actions: assign(({ context, event }: { context: World; event: Heard }) => ({
          answer: refusal(context, event as Said, line.refuse ?? 'does-not-fit'),
        })),
      },
    ];
  }
  const { act: deed, to = [] } = line;
  // The guards of all targets ask for the same.
  let asked: { world: World; said: Said; head: Head } | null = null;
  const after = (world: World, said: Said) => {
    if (asked?.world !== world || asked.said !== said)
      asked = { world, said, head: deed(world.head as Head, said as never, world.now) };
    return asked.head;
  };
  return to.map((target) => ({
    target: `#visit.${target}`,
    guard: ({ context, event }: { context: World; event: Heard }) =>
      holds(context, event as Said) && (to.length === 1 || after(context, event as Said).stage === target),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const head = after(context, event as Said);
      if (head.stage !== target) throw new Error(`${event.type} leads to ${head.stage}, not to ${target}`);
      return { answer: line.refuse ?? 'done', head: ring(head, context.now) };
    }),
  }));
}

import type { Command } from '../../../../core/command.ts';
import { MINUTE } from '../../../../core/time.ts';
import { problemOf } from '../../../../shared/problem.ts';
import type { ProblemCode } from '../../../../shared/problem-code.ts';
import type { Sent } from '../../../../web/src/state/sender.svelte.ts';
import type { StagedSession } from '../../stage/staged-session.svelte.ts';

/** Touches of chair 4 in every state that a screen can show; `state` names those wanted. */
export function keptScene(staged: StagedSession, state: string): void {
  const { now, mirror } = staged;
  const visit = mirror.chairs.find((chair) => chair.number === 4)?.visit?.id ?? '';
  const of = (id: string, command: Command, minutes: number) => ({ id, command, chair: 4, at: now - minutes * MINUTE });
  const part = (n: number): Command => ({ type: 'MarkPartDone', visit, part: n });
  const water: Command = { type: 'BeginRinse', chair: 4, visit, basin: 91 };
  const waiting = (n: number, minutes: number, tries: number, held = false): Sent => ({
    ...of(`waiting-${n}`, part(n), minutes),
    outcome: 'trying',
    tries,
    held,
  });
  const refused = (code: ProblemCode, command: Command, late: boolean): Sent => {
    const since = [{ type: 'RinseBegun', at: now - 2 * MINUTE, by: 'person-joss' }];
    return { ...of(code, command, 6), outcome: 'refused', problem: problemOf(code, { since }), late };
  };
  const all: Readonly<Record<string, readonly Sent[]>> = {
    trying: [waiting(0, 1, 1)],
    several: [waiting(0, 12, 7), waiting(1, 9, 0), waiting(2, 4, 0)],
    held: [waiting(0, 12, 0, true), waiting(1, 9, 0, true)],
    refused: [refused('already-done', water, false)],
    late: [refused('moved-on', part(2), true)],
    old: [{ ...refused('time-too-old', part(2), false), at: now - 26 * 60 * MINUTE }],
    unsaved: [
      {
        ...of('unsaved', water, 1),
        outcome: 'kept-unsaved',
        answer: { outcome: 'kept-unsaved', visit, version: 9, revision: 90 },
      },
    ],
  };
  staged.refused = Object.entries(all).flatMap(([name, sent]) => (state.includes(name) ? sent : []));
  if (state.includes('held')) Object.assign(staged.outbox, { foreign: [{}] });
  if (state.includes('unreadable')) Object.assign(staged.outbox, { unreadable: [{ id: 'left-1', value: null }] });
  if (state.includes('private')) Object.assign(staged.outbox, { trouble: 'absent' });
}

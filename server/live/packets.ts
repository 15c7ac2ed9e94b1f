import type { z } from 'zod';
import { problemOf, type Problem } from '../../shared/problem.ts';
import { FORMER_PROTOCOL, PROTOCOL } from '../../shared/protocol.ts';
import { here, joinRequest, keptTime, shownBells, testBell } from '../../shared/schemas/wire.ts';
import type { ClientToServer } from '../../shared/socket-events.ts';
import { faultOf } from '../routes/body-fault.ts';

/** What each packet carries before its acknowledgement; null: nothing. */
const packets = {
  join: joinRequest,
  clock: null,
  'kept-time': keptTime,
  'test-bell': testBell,
  here,
  shown: shownBells,
} as const satisfies Record<keyof ClientToServer, z.ZodType | null>;

/** What is wrong with a packet; null when it can be handed on. */
export function packetProblem(packet: readonly unknown[]): Problem | null {
  const [name, ...args] = packet;
  if (typeof name !== 'string' || !Object.hasOwn(packets, name)) return problemOf('unknown-event');
  const schema = packets[name as keyof typeof packets];
  const answer = args.pop();
  if (typeof answer !== 'function') return problemOf('bad-packet', { field: 'answer', expected: 'an acknowledgement' });
  if (args.length !== (schema === null ? 0 : 1))
    return problemOf('bad-packet', { field: name, expected: 'one argument' });
  const parsed = schema?.safeParse(args[0]);
  return parsed === undefined || parsed.success ? null : problemOf('bad-packet', faultOf(parsed.error.issues));
}

/** Whether the server speaks what a page speaks: its own protocol, or the one before. */
export function isSpoken(protocol: number): protocol is typeof PROTOCOL | typeof FORMER_PROTOCOL {
  return protocol === PROTOCOL || protocol === FORMER_PROTOCOL;
}

/** A page of any other protocol is told to reload. */
export function protocolProblem(): Problem {
  return problemOf('unknown-protocol', { expected: `the server speaks ${PROTOCOL} and ${FORMER_PROTOCOL}` });
}

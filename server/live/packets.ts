import type { z } from 'zod';
import { problemOf, type Problem } from '../../shared/problem.ts';
import { PROTOCOL } from '../../shared/protocol.ts';
import { joinRequest, testBell } from '../../shared/schemas/wire.ts';
import type { ClientToServer } from '../../shared/socket-events.ts';
import { faultOf } from '../routes/body-fault.ts';

/** What each packet carries before its acknowledgement; null: nothing. */
const packets = { join: joinRequest, clock: null, 'test-bell': testBell } as const satisfies Record<
  keyof ClientToServer,
  z.ZodType | null
>;

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

/** A page of another protocol version is told to reload. */
export function protocolProblem(protocol: number): Problem | null {
  return protocol === PROTOCOL ? null : problemOf('unknown-protocol', { expected: `the server speaks ${PROTOCOL}` });
}

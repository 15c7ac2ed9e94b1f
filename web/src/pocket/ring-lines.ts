import type { ReachKind } from '../../../shared/wire.ts';
import type { OpensAlone } from '../shell/registration.svelte.ts';
import { isLinked, type Reach } from './can-be-rung.ts';
import type { PushState } from '../reach/push-subscription.svelte.ts';
import type { MyShift } from './my-shift.ts';

export const noticeKinds = ['granted', 'default', 'denied', 'absent'] as const;
export type Notices = (typeof noticeKinds)[number];

/** All that the panel tells of. */
export interface Told extends Reach {
  readonly shift: MyShift['kind'];
  readonly vibrates: boolean;
  readonly notices: Notices;
  readonly push: PushState;
  readonly opensAlone: OpensAlone;
  readonly mutedForMs: number | null;
  /** As the server sees this person; null: not told yet. */
  readonly seenAs: ReachKind | null;
}

export const lineKinds = [
  'shift',
  'sound',
  'muted',
  'server',
  'seen-as',
  'awake',
  'buzz',
  'notices',
  'push',
  'alone',
] as const;
export type LineKind = (typeof lineKinds)[number];

/** `no`: it keeps bells from being heard now. `less`: they are heard all the same, by fewer ways. */
export type Stand = 'yes' | 'less' | 'no';

/** How each line of "Can I be rung?" stands. */
export function ringLines(told: Told): readonly { readonly line: LineKind; readonly stand: Stand }[] {
  const { person, shift, sound, heard, awake, push, notices, seenAs } = told;
  const stands: Record<LineKind, Stand | null> = {
    shift: person !== null && shift === 'on' ? 'yes' : 'no',
    sound: sound === 'on' && heard === 'heard' ? 'yes' : 'no',
    muted: told.mutedForMs === null ? 'yes' : 'less',
    server: isLinked(told) ? 'yes' : 'no',
    // What the server was told before the line was lost says nothing now.
    'seen-as':
      !isLinked(told) || seenAs === null || person === null ? null : seenAs === 'rings' ? 'yes' : seenStand(seenAs),
    awake: awake === 'held' ? 'yes' : 'less',
    buzz: told.vibrates ? 'yes' : 'less',
    notices: push === 'salon-off' && notices !== 'granted' ? null : notices === 'granted' ? 'yes' : 'less',
    push: push === 'confirmed' ? 'yes' : 'less',
    alone: told.opensAlone === 'yes' ? 'yes' : 'less',
  };
  return lineKinds.flatMap((line) => {
    const stand = stands[line];
    return stand === null ? [] : [{ line, stand }];
  });
}

function seenStand(seenAs: ReachKind): Stand {
  return seenAs === 'no' ? 'no' : 'less';
}

/** Whole seconds left, rounded up; null when nothing holds. */
export function secondsLeft(untilAt: number | null, now: number): number | null {
  return untilAt === null || untilAt <= now ? null : Math.ceil((untilAt - now) / 1_000);
}

/** Whether this page may notify; on plain http there is nothing to ask. */
export function noticesNow(): Notices {
  if (!('Notification' in globalThis) || globalThis.isSecureContext !== true) return 'absent';
  return Notification.permission;
}

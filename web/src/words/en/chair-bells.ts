import type { BellEnd, BellKind, WidenReason } from '../../../../core/bells/bell.ts';
import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** Bells at the chair: what is asked for from here, who comes, and what became of each. */
export const bellWords = {
  tingles: {
    button: 'Itches / tingles',
    lines: ['Itches', 'tingles'],
    said: 'It itches or tingles: look at the scalp.',
    ask: 'Looked at the scalp?',
    eased: 'It eased',
    mistaken: 'It was a mistake',
    hydroxide: 'A relaxer that burns comes off: water on first.',
    other: 'If in any doubt: water on.',
    source: 'The product’s directions and a licensed judgement come first.',
  },
  help: {
    button: 'Help here',
    asked: (clock: string) => `Help asked for at ${clock}: nobody goes yet`,
    /** Nobody else has been asked yet (R6). */
    seniors: 'the seniors are asked first',
    goes: (name: string) => `Help asked for: ${name} goes`,
    here: 'Somebody is here',
    noLonger: 'Not wanted any more',
  },
  who: {
    goes: (name: string) => `${name} goes`,
    missed: (names: string) => `not shown in time to ${names}`,
    carried: { 1: 'everyone on the floor is asked', 2: 'everyone and the managers are asked' },
    people: (n: number) => one(n, { one: `${n} person`, other: `${n} people` }),
  },
  offered: (name: string) => `offered to ${name}, not accepted yet`,
  wallSilent: 'A wall cannot sound. Touch its screen once.',
  /** DANGER at another chair, in one line. */
  elsewhere: {
    at: (said: string, chair: string) => `${said} at ${chair}: all hands`,
    goes: (said: string, chair: string, name: string) => `${said} at ${chair}: ${name} goes`,
    more: (n: number) => `and ${n} more`,
    said: {
      burns: 'burns',
      tingles: 'itches or tingles',
      over: 'past its time',
    } satisfies Partial<Record<BellKind, string>>,
    other: 'danger',
  },
  /** The steps of one bell, as kept. */
  log: {
    bell: (level: string, asks: string) => `Bell, ${level}: ${asks}`,
    rung: (level: string) => `rung at ${level}`,
    shown: (names: string) => `shown to ${names}`,
    missed: (names: string) => `not shown in time to ${names}`,
    carried: { 0: 'asks those whose deed it is', 1: 'asks everyone on the floor', 2: 'asks everyone and the managers' },
    because: (what: string, why: string) => `${what}: ${why}`,
    why: {
      untaken: 'nobody had said that they go',
      'taking-expired': 'whoever went was not there in time',
      'passed-on': 'whoever was asked could not go',
      'not-shown': 'it was shown to nobody in time',
      'nobody-there': 'none of those it asked was here',
    } satisfies Record<WidenReason, string>,
    taken: (name: string) => `${name} goes`,
    passed: (name: string) => `${name} cannot go`,
    ended: 'ended',
    ends: {
      'deed-done': 'it was done',
      corrected: 'a time was corrected',
      'taken-back': 'a step was taken back',
      'had-happened': 'it had been done already',
      'moved-on': 'the head moved on',
      cleared: 'no longer called for',
      'visit-ended': 'the visit ended',
    } satisfies Record<BellEnd, string>,
    stands: 'still rings',
    steps: (n: number) => one(n, { one: `${n} step`, other: `${n} steps` }),
  },
} as const;

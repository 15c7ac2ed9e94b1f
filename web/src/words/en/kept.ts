import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** What was touched on this device and is not through, or wants reading. Chair and pocket say it alike. */
export const kept = {
  title: 'Kept on this device',
  /** Beside the state of the link, and on the button that opens the list. */
  count: (n: number) => one(n, { one: '1 touch kept here', other: `${n} touches kept here` }),
  hint: 'What is touched while the server is away is kept here with its time, and sent in order as soon as the server answers.',
  none: 'Nothing waits here: all that was touched has reached the server.',
  show: 'Show',
  notThrough: (act: string, clock: string) =>
    `“${act}” (${clock}) is not through yet. It is kept on this device and sent again.`,
  severalNotThrough: (n: number, clock: string) =>
    `${n} touches since ${clock} are not through yet. They are kept on this device and sent again, in order.`,
  /** Burns that have not reached the server: nobody else knows of them. */
  nobodyCalled: 'Nobody has been called: this device has no link. Shout for help, and plenty of water now.',
  /** Touches that have an outcome which wants reading. */
  toRead: (n: number) =>
    one(n, { one: '1 touch did not count: read why', other: `${n} touches did not count: read why` }),
  unsaved: (act: string) => `“${act}” is done, but not saved yet: the server’s disk has not taken it.`,
  /** Came too late to change anything (X3). */
  late: (act: string, clock: string) => `“${act}” (${clock}) came in too late to count. Nothing was changed.`,
  correct: 'Correct a time',
  at: (chair: string) => `chair ${chair}`,
  states: {
    sending: 'on its way',
    waiting: 'waits for the server',
    again: (n: number) => one(n, { one: 'not through yet, sent once', other: `not through yet, sent ${n} times` }),
    unsaved: 'done, not saved yet: the server’s disk has not taken it',
    late: 'Came in too late to count. Nothing was changed.',
    held: 'held: touched in another salon, not sent to this one',
  },
  foreign:
    'Another salon’s server answers here now. What was touched for the salon before is held and not sent to this one.',
  unreadable: 'Left by another version of this page and not understood. It was not sent: enter by hand what it was.',
  discard: 'Discard',
  /** Why it lives only as long as this page. */
  trouble: {
    absent: 'This browser keeps nothing for pages, as in a private window. Leave this page open until all is through.',
    refused: 'This browser refuses to keep anything. Leave this page open until all is through.',
    slow: 'This browser’s storage does not answer. Leave this page open until all is through.',
    failed: 'This browser’s storage has failed or is full. Leave this page open until all is through.',
    newer: 'A newer version of this page keeps its touches on this device. Reload this page once all is through.',
    'given-up': 'A newer version of this page has taken over the storage. Reload this page once all is through.',
  },
} as const;

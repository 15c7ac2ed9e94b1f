import type { SoundedLevel } from '../../../../core/salon/room.ts';
import type { HookFault } from '../../../../shared/hooks.ts';
import type { ReachKind } from '../../../../shared/wire.ts';
import type { PushNeed } from '../../salon/form/push-draft.ts';
import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** What the room hears and sees of bells. */
const room = {
  lead: 'Clients sit in the room. Bells can be made softer and less wordy for them, never silent.',
  spoken: 'Spoken bells',
  spokenHint: 'After its tone the wall says which chair, and what to do: no level, no names.',
  spokenOn: 'spoken',
  spokenOff: 'tones only',
  example: (chair: string) => `The wall will say: “Chair ${chair}, rinse now.” Only where its browser has a voice.`,
  names: 'Names on the wall',
  namesHint: 'Who goes, and whose head it is.',
  namesOn: 'shown',
  namesOff: 'not shown',
  volume: (level: string) => `Volume of ${level}`,
  volumeHints: {
    CAUTION: 'Somebody is wanted soon.',
    WARNING: 'Somebody is wanted now.',
    DANGER: 'Everybody is wanted now.',
  } satisfies Record<SoundedLevel, string>,
  range: (least: string, most: string) => `${least} to ${most} % of what the device can.`,
  hear: 'Hear it',
  hearOf: (level: string) => `Hear ${level} on this device`,
  asked: (level: string) => `The server rang ${level} on this device, as loud as it is saved.`,
  saveFirst: (level: string) => `The server rang ${level} on this device as it is saved. Save, and hear it again.`,
  silent: 'This browser has not let a sound through. Touch “Hear it” once more; look at the volume of the device.',
  unasked: 'The server could not be asked to ring. Look at the link.',
} as const;

/** Who can be reached, by what devices confirmed. */
const who = {
  lead: 'By what each device has confirmed by itself, never by what was sent to it.',
  waiting: 'Not heard from the server yet.',
  nobody: 'Nobody is on shift, and no phone is linked.',
  how: {
    rings: 'can be rung: a device that sounds',
    shown: 'is shown bells without sound',
    push: 'by push only: a bell may take half a minute',
    no: 'cannot be reached',
  } satisfies Record<ReachKind, string>,
  since: (clock: string) => `since ${clock}`,
  muted: (clock: string) => `muted until ${clock}, DANGER excepted`,
  walls: 'Walls',
  sounding: (n: number) => one(n, { one: 'One wall sounds.', other: `${n} walls sound.` }),
  silent: (n: number) =>
    one(n, {
      one: 'One wall cannot sound: touch it once where it asks for that.',
      other: `${n} walls cannot sound: touch each once where it asks for that.`,
    }),
  noWall: 'No wall is linked: nobody in the room hears a bell but from phones and tablets.',
} as const;

/** Bells by push, which leaves the house. */
const push = {
  lead: 'A push reaches a phone that is locked in a pocket, late and not surely. The wall and open pages stay the first bell.',
  internet:
    'Each push goes over the internet to the service of the phone’s maker, encrypted for that phone. It is off until you turn it on.',
  choice: 'Push to phones',
  on: 'on',
  off: 'off',
  contact: 'Contact',
  contactHint: 'An e-mail address, or a page: https://…',
  contactWhy:
    'Push services want to know whom to write to if something goes wrong with what this server sends (RFC 8292). Nobody else is told.',
  needs: 'What it needs',
  met: 'there',
  missing: 'missing',
  unknown: 'seen at the first push',
  need: {
    internet: 'Internet, for this server and for each phone.',
    secure: 'A secure address: each phone opens https://…, not http://….',
    certificate: 'A certificate that the phones trust, for the name they open. Start the server with it:',
    contact: 'A contact, below.',
  } satisfies Record<PushNeed, string>,
  certificateCommand: 'npm start -- --lan --tls-cert FILE --tls-key FILE',
  without: 'Without these a phone rings only while its pocket page is open and its screen is on.',
  onInVain: 'It is on, but no push can go out yet: see what is missing above.',
  phones: 'Then each person turns it on once on their own phone: Pocket, Can I be rung?',
  faults: { contact: 'Write an e-mail address, or a page that begins with https://.' },
} as const;

/** Lights and buzzers: outgoing hooks. */
const hooks = {
  lead: 'A light or buzzer, or a relay that drives them, is told of every step of a bell: chair, level and what it is about. No names of people or clients.',
  build: 'For whoever builds one: “Lights and buzzers” in the README.',
  none: 'None yet.',
  unheard: 'How it stands with them cannot be asked just now.',
  more: 'Add a light or buzzer',
  name: 'Name',
  nameHint: 'Where it stands, or what it does.',
  url: 'Address',
  urlHint: 'Begins with http:// or https://. It may lie in the house, and not on this server itself.',
  save: 'Add it',
  secretTitle: (name: string) => `The secret of “${name}”`,
  secret: 'It signs every step, so that the receiver knows who sent it. Copy it by hand now: it is not shown again.',
  secretDone: 'I have copied it',
  test: 'Test',
  testOf: (name: string) => `Test ${name}`,
  testing: 'Sent. Waiting for what comes of it.',
  putOff: 'Put off',
  putOffOf: (name: string) => `Put off ${name}`,
  putOn: 'Put on',
  putOnOf: (name: string) => `Put on ${name}`,
  remove: 'Remove',
  removeOf: (name: string) => `Remove ${name}`,
  keep: 'Keep it',
  keepOf: (name: string) => `Keep ${name}`,
  off: 'off',
  /** How it stands. */
  isOff: 'Put off: it is told nothing.',
  unused: 'Nothing has been sent to it since this server started.',
  delivered: (clock: string) => `The last step arrived at ${clock}.`,
  failing: (clock: string, why: string) => `Not reached since ${clock}: ${why}.`,
  givenUp: (n: number) => one(n, { one: 'One step was given up.', other: `${n} steps were given up.` }),
  waiting: (n: number) => one(n, { one: 'One step waits.', other: `${n} steps wait.` }),
  /** What came of a test. */
  tested: {
    delivered: (status: string, ms: string) => `It arrived: answered ${status} after ${ms} ms. Did it light up?`,
    failed: (why: string) => `It did not arrive: ${why}.`,
    waiting: (n: number) =>
      one(n, {
        one: 'Its turn has not come: one step before it does not get through.',
        other: `Its turn has not come: ${n} steps before it do not get through.`,
      }),
    slow: 'Nothing has come of it within the time for a test.',
  },
  why: {
    timeout: () => 'no answer within 5 seconds',
    refused: () => 'nobody listens at that address',
    'no-name': () => 'its name is not known here',
    unreachable: () => 'there is no way to it from this machine',
    tls: () => 'its certificate is not trusted, or it does not speak https',
    broken: () => 'it hung up, or answered what is no answer',
    redirect: () => 'it sends to another address; enter that one instead',
    answered: (status: string) => `it answered ${status}`,
    'own-address': () => 'its name leads to this server itself',
    'no-device': () => 'its name leads to an address that no device has',
  } satisfies Record<HookFault, (status: string) => string>,
  refused: {
    url: 'Not this address. It begins with http:// or https://, holds no password, and is not this server’s own.',
    full: 'Twenty are the most. Remove one that is not used any more.',
    gone: 'It has been removed meanwhile.',
    again: 'The disk could not take it just now. Try again in a moment.',
    lost: 'The server does not answer. Nothing was changed.',
  },
} as const;

export const salonReach = { room, who, push, hooks } as const;

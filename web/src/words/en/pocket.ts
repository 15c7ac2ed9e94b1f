import type { BellKind } from '../../../../core/bells/bell.ts';
import type { StrandPlace } from '../../../../core/visit/visit.ts';
import { rung } from './pocket-reach.ts';
import { handOver, quiet, shift } from './pocket-shift.ts';

/** Words of the stylist's phone. What is done at a head is said with the words of the chair. */
export const pocket = {
  who: {
    ask: 'Who holds this phone?',
    hint: 'One touch: your shift begins, the sound is turned on, a test rings.',
    none: 'Nobody is on the list yet. The salon page is the place to add people.',
    without: 'Until a name is chosen this phone rings for nobody.',
  },
  test: {
    heard: 'Did you hear it?',
    yes: 'Yes',
    no: 'No',
    again: 'Ring again',
    without: 'Go on without sound',
    failed: 'The server could not be asked. No test was rung.',
    quiet:
      'Turn the volume up and the silent switch off, then ring again. Until you hear it, do not count on this phone.',
  },
  notYou: 'Not you?',
  mine: 'My heads',
  others: 'On the floor',
  none: 'Nobody sits in a chair.',
  open: (chair: string) => `Open chair ${chair}`,
  back: 'All heads',
  /** What a bell asks for, as the deed of its head. */
  asked: {
    pace: 'get help, finish by',
    begun: 'begun?',
    waterOn: 'water on?',
    water: 'minimum reached',
    tingles: 'look at the scalp',
    help: 'help wanted',
    backToRinse: 'back to the rinse',
    rinse: 'rinse',
  },
  ownSaid: { tingles: 'It itches or tingles', 'back-to-rinse': 'Two more shampoos still show alkali' },
  begunNow: 'Begun now',
  notBegun: 'Not yet',
  noRoomOffBy: 'no room: off by',
  ready: 'ready',
  finishBy: 'finish by',
  expectedFinish: 'expected',
  nextTest: 'test strand',
  nextTestAt: (clock: string) => `next test ${clock}`,
  noNextTest: 'no further test',
  parts: 'Parts',
  partsTouch: 'Parts: touch what is done',
  touchDone: 'touch when done',
  inWork: 'in work',
  strandPlaces: { first: 'done first', last: 'done last', porous: 'most porous' } satisfies Record<StrandPlace, string>,
  hands: {
    at: (names: string) => `At this head: ${names}`,
    join: 'I help here',
    leave: 'I go',
    elsewhere: (chair: string) => `you are at ${chair}`,
  },
  ringing: {
    help: (chair: string) => `I’ll help at ${chair}`,
    go: (chair: string) => `I’ll go to ${chair}`,
    goPlain: 'I’ll see to it',
    going: 'You are going',
    goingFor: (left: string) => `quiet for ${left}, then it rings again`,
    cannot: 'Can’t, pass on',
    head: 'Open head',
    heads: 'All heads',
    here: 'I am here',
    settled: 'Somebody has seen to it',
  },
  /** Why a bell came to somebody whose own head it is not. */
  why: {
    'free-hands': 'You are the one free pair of hands',
    untaken: 'Nobody had taken it',
    'nobody-named': 'This head has no stylist named',
    everyone: 'Everyone is called',
    covering: (name: string) => `You cover for ${name}`,
    offered: (name: string) => `${name} offers you this head`,
    cannot: (name: string) => `${name} can’t`,
    'not-shown': (name: string) => `Not shown to ${name}`,
    went: (name: string) => `${name} went, and it still stands`,
    'not-here': (name: string) => `${name} is not here`,
  },
  /** A bell that asks, without sound. */
  besides: {
    you: 'without sound: you are at it',
    other: 'somebody is at it: rings in a minute',
    going: 'you are going',
    rings: 'rings on',
    more: (n: number) => `and ${n} more`,
    show: (what: string) => `Show: ${what}`,
    floor: 'floor',
  },
  soon: { near: 'The rinse is near', open: 'May be rinsed now' },
  tingles: {
    ask: 'Looked at it:',
    eased: 'It eased',
    mistaken: 'A mistake',
    water: 'Any doubt: water on.',
    hydroxide: 'A relaxer that burns comes off: water on.',
  },
  helpHere: {
    open: 'Help here',
    asked: (clock: string) => `Help asked for at ${clock}`,
    askedBy: (name: string, clock: string) => `${name} asked for help at ${clock}`,
    here: 'Somebody is here',
    noLonger: 'Not wanted any more',
  },
  /** What to do about bells of the whole floor. */
  floor: {
    'nobody-reached': (chairs: string) =>
      `Product is on at ${chairs}. Whoever works: choose your name on a phone and hear its test. Until then look at the wall.`,
    'not-saved': 'Go on working. Write times down on paper too, and tell whoever looks after the server.',
    'time-uncertain': 'Look at every head with product on now, then say what time it is.',
  } satisfies Partial<Record<BellKind, string | ((chairs: string) => string)>>,
  rung,
  shift,
  handOver,
  quiet,
  owed: {
    title: 'Owed',
    count: (n: number) => `Owed: ${n}`,
    at: (chair: string, clock: string) => `${chair} · seated ${clock}`,
    back: 'Close',
  },
} as const;

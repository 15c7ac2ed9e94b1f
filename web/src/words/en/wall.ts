import type { Deed } from '../../../../core/visit/headline.ts';
import type { BellKind } from '../../../../core/bells/bell.ts';
import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** The wall: read from far away, so each has shorter wordings for where the longer do not fit. */
export const wall = {
  title: 'The floor, chair by chair',
  /** Nothing rings anywhere on the floor. */
  quiet: 'no bells',
  /** Shortest wording of a deed, beside "taken". */
  taking: {
    prepare: 'prepare',
    apply: 'apply',
    'finish-by': 'finish',
    look: 'look',
    test: 'test',
    'rinse-from': 'rinse',
    'off-by': 'off by',
    'rinse-now': 'rinse',
    'to-the-water': 'water',
    'keep-rinsing': 'rinsing',
    'rinse-clear': 'rinsing',
    shampoo: 'shampoo',
    'neutralizer-on': 'neutralizer',
    'neutralizer-off-from': 'rinse',
    'neutralizer-off-by': 'off by',
    'neutralizer-off-now': 'rinse',
    'neutralizer-rinse': 'rinsing',
    'neutralize-done': 'neutralized',
    condition: 'condition',
    dry: 'dry',
    finished: 'finished',
    'left-with-product': 'product on',
    unattended: 'there?',
  } satisfies Record<Deed, string>,
  taken: 'taken',
  goes: (name: string) => `${name} goes`,
  nobodyGoes: 'nobody goes yet',
  /** Not shown in time to those whom a bell asks; read from 2 m. */
  notShownTo: (names: string) => `not shown to ${names}`,
  notShown: 'not shown',
  /** How far a bell was carried on. */
  carried: { 1: 'all asked', 2: 'managers asked' },
  people: (n: number) => one(n, { one: `${n} person`, other: `${n} people` }),
  shortCount: (deed: string, n: number, of: number) => `${deed} ${n}/${of}`,
  /** What a bell asks for, as the deed: whole, shorter, and shortest beside "taken". */
  asked: {
    pace: { full: 'get help, finish by', short: 'help, finish by', least: 'finish' },
    begun: { full: 'prep done: begun?', short: 'begun?', least: 'begun?' },
    waterOn: { full: 'is the water on?', short: 'water on?', least: 'water on?' },
    water: { full: 'rinsing: minimum reached', short: 'minimum reached', least: 'rinsing' },
    dwell: { full: (deed: string) => `${deed}: minimum reached`, short: (deed: string) => `${deed}: done?` },
    backToRinse: { full: 'alkali left: back to the rinse', short: 'back to rinse', least: 'back to rinse' },
    tingles: { full: 'it tingles: look at the scalp', short: 'tingles: look', least: 'tingles' },
    help: { full: 'help wanted here', short: 'help here', least: 'help' },
    /** Somebody sits there: before the deed that the number belongs to. */
    helpAt: (deed: string) => `help · ${deed}`,
    tooLong: (deed: string) => `${deed}: too long`,
  },
  /** A correction moved the close later (X1). */
  corrected: 'corrected',
  /** Conditions of the whole floor, in as few words as they need. */
  floorBells: {
    'time-uncertain': 'clock lost: look at the hair',
    'not-saved': 'not saved',
    'nobody-reached': 'no phone can be rung',
  } satisfies Partial<Record<BellKind, string>>,
  /** Another wall than the one that says it. */
  wallSilent: 'a wall cannot sound',
  /** To whom bells that stand were not shown, in the top line: by name, and counted. */
  missed: (names: string) => `not reached: ${names}`,
  missedCount: (n: number) => `${n} not reached`,
  /** On shift, and no device of theirs rings, shows or can be pushed to. */
  noPhone: (names: string) => `no phone: ${names}`,
  noPhoneCount: (n: number) => one(n, { one: `${n} person without a phone`, other: `${n} people without a phone` }),
  phoneQuiet: (name: string, left: string) => `${name}’s phone is quiet ${left}`,
  phonesQuiet: (n: number, left: string) =>
    one(n, { one: `a phone is quiet ${left}`, other: `${n} phones are quiet, up to ${left}` }),
  onlyWall: 'nobody is on shift: only the wall rings',
  /** The data file: read from afar, so in as few words as it takes. */
  dataDamaged: 'data damaged: restore a backup',
  elsewhere: 'also',
  elsewhereName: (label: string, level: string) => `chair ${label}, not on this wall: ${level}`,
  more: (n: number) => `and ${n} more`,
  gap: (from: string, to: string) => `the server was away ${from}–${to}`,
  gapShort: (length: string, at: string) => `the server was away for ${length} at ${at}`,
  linkLost: (since: string) => `no link since ${since}`,
  linkNever: 'no link to the server so far',
  older: 'this wall and its server are of different versions: reload it',
  reloading: 'the server is of another version: this wall opens anew',
  demonstration: 'demonstration',
  heardUnknown: 'rung here; not known who heard it',
  basins: 'basins',
  noBasins: 'no basins entered',
  basinFree: 'free',
  basinUnknown: 'basin not named',
  atBasin: (chair: string, basin: string) => `chair ${chair} at basin ${basin}`,
  noChairs: 'no chairs yet',
  noChairsHow: 'Add the first ones on the page /salon.',
  tooFar: 'this screen is too small for its distance',
  offByAbout: (clock: string) => `off by about ${clock}`,
  offByUnsure: (clock: string) => `off by ${clock}?`,
  chairName: (label: string) => `chair ${label}`,
  sound: {
    off: 'Sound is off here: touch once',
    lost: 'Sound has stopped here: touch once',
    absent: 'This screen cannot make sound',
    rung: 'Sound is on: a test bell rings now',
    notRung: 'Sound is on, but the server did not answer the test',
  },
} as const;

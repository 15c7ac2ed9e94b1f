import type { BellKind } from '../../../../core/bells/bell.ts';
import type { BellLevel } from '../../../../core/bells/level.ts';
import type { RuleRefusal } from '../../../../core/refusal.ts';
import type { Deed } from '../../../../core/visit/headline.ts';
import type { Stage } from '../../../../core/visit/stages/stage.ts';
import { plurals } from '../plurals.ts';

const { one } = plurals('en');

/** What every screen says; the screens' own words stand beside this file. */
export const everywhere = {
  language: 'en',
  locale: 'en-GB',
  product: 'Basinbell',
  units: {
    minutes: (n: number) => `${n} min`,
    /** m:ss, in every language alike. */
    clock: (minutes: number, seconds: number) => `${minutes}:${String(seconds).padStart(2, '0')}`,
    seconds: (n: number) => `${n} s`,
    hours: (n: number) => `${n} h`,
  },
  levels: { DANGER: 'DANGER', WARNING: 'WARNING', CAUTION: 'CAUTION', NOTICE: 'NOTICE' } satisfies Record<
    BellLevel,
    string
  >,
  levelCount: (word: string, n: number) => `${word} ${n}`,
  stages: {
    prep: 'prep',
    apply: 'apply',
    process: 'process',
    rinse: 'rinse',
    neutralize: 'neutralize',
    condition: 'condition',
    dry: 'dry',
    finished: 'finished',
  } satisfies Record<Stage, string>,
  /** Short: each stands on one line of the wall, before its number. */
  deeds: {
    prepare: 'prepare',
    apply: 'apply',
    'finish-by': 'finish by',
    'rinse-from': 'rinse from',
    'off-by': 'off by',
    'rinse-now': 'rinse now',
    'to-the-water': 'to the water',
    'keep-rinsing': 'keep rinsing',
    'rinse-clear': 'rinsing',
    shampoo: 'shampoo',
    'neutralizer-on': 'neutralizer',
    'neutralizer-off-from': 'rinse from',
    'neutralizer-off-by': 'off by',
    'neutralizer-off-now': 'rinse now',
    'neutralizer-rinse': 'rinse',
    'neutralize-done': 'neutralized',
    condition: 'condition',
    dry: 'dry',
    finished: 'finished',
    'left-with-product': 'product on!',
  } satisfies Record<Deed, string>,
  deedCount: (deed: string, n: number, of: number) => `${deed} ${n} of ${of}`,
  deedAt: (deed: string, basin: string) => `${deed} at ${basin}`,
  /** Why a bell rings, in a sentence for whoever it calls. */
  bells: {
    soon: 'Time to rinse is near or here',
    rinse: 'To be rinsed',
    over: 'Past its time: rinse now',
    water: 'Rinsed for the minimum: look whether it runs clear',
    dwell: 'The step has had its time',
    'long-stage': 'Longer in this stage than planned',
    burns: 'Burns or product in the eye: plenty of water now',
    abandoned: 'Left with product on: see that it is rinsed',
    'time-uncertain': 'The clock was lost: look at the hair now',
    'not-saved': 'Not saved: the server cannot write to its disk',
  } satisfies Record<BellKind, string>,
  /** What to do when the rules refuse. */
  refusals: {
    'unknown-visit': 'This visit is not known. Look again at the chair.',
    'unknown-place': 'There is no such chair or basin.',
    'unknown-person': 'This person is not on the list. Choose who you are again.',
    'unknown-service': 'This service is not on the list any more.',
    'unknown-directions': 'These directions are not on the list any more.',
    'unknown-part': 'This head has no such part.',
    'unknown-moment': 'There is nothing at this head whose time could be changed.',
    'already-done': 'Somebody has done this already.',
    'moved-on': 'The head has moved on meanwhile. Look again, then touch once more if it is still right.',
    'wrong-stage': 'This does not fit the stage the head is in.',
    'product-on': 'There is product on the hair: water on, move or abandon first.',
    'place-taken': 'Somebody sits there already.',
    'number-taken': 'Another chair or basin has this number.',
    'label-taken': 'Another chair or basin has this label.',
    'name-taken': 'This name is on the list already.',
    'service-needed': 'Choose the service first.',
    'person-needed': 'Say who you are first.',
    'reason-needed': 'Say why.',
    'nothing-to-take-back': 'There is nothing left to take back.',
    'bell-gone': 'This bell has ended already.',
    'time-in-future': 'This time has not come yet.',
    'time-too-old': 'This is too long ago to be changed.',
    'times-cross': 'This time does not fit between the steps before and after it.',
    'directions-contradict': 'These figures contradict each other. Compare them with the leaflet.',
    'out-of-range': 'This figure is outside what is allowed.',
    'in-use': 'Somebody needs this at the moment. Try again when the chair is free.',
  } satisfies Record<RuleRefusal, string>,
  marks: { expected: 'about', unsure: 'not confirmed', over: 'over by' },
  axis: { now: 'now', minutes: (n: number) => (n > 0 ? `+${n}` : n < 0 ? `−${-n}` : '0') },
  lane: {
    free: 'free',
    offBy: (clock: string) => `off by ${clock}`,
    from: (clock: string) => `from ${clock}`,
    window: (from: string, to: string) => `from ${from}, off by ${to}`,
    room: (span: string) => `${span} room`,
    noRoom: 'no room',
    at: (basin: string) => `at ${basin}`,
  },
  chairs: (n: number) => one(n, { one: `${n} chair`, other: `${n} chairs` }),
  chairsShown: (first: string, last: string, all: number) => `chairs ${first}–${last} of ${all}`,
  walls: (n: number) => one(n, { one: 'one wall is enough', other: `${n} walls are needed` }),
  takeBack: {
    button: 'Take back',
    left: (seconds: number) =>
      one(seconds, { one: `${seconds} second to take back`, other: `${seconds} seconds to take back` }),
  },
  hold: 'hold for 1 second',
  link: {
    waiting: 'Waiting for the salon’s server …',
    linked: (seconds: number) => `linked ${seconds} s`,
    silent: (ago: string) => `server not heard for ${ago}: numbers not confirmed`,
    lost: (ago: string) => `no link for ${ago}: numbers not confirmed`,
    refused: 'the server refuses this screen',
  },
  sound: {
    on: 'sound on',
    locked: 'no sound yet: touch to turn it on',
    broken: 'sound has stopped: touch to bring it back',
    absent: 'this device cannot make sound',
    test: 'Ring a test bell',
    heard: 'I heard it',
    notHeard: 'I heard nothing',
  },
  theme: { auto: 'as the device', light: 'light', dark: 'dark' },
} as const;

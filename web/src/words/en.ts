import { plurals } from './plurals.ts';

const { one } = plurals('en');

/**
 * Every sentence a person reads, in English. Another language is one more file with the same shape:
 * `export const fr = { … } satisfies Words`, plus its line in `words.ts`. Parameters are named in the
 * functions' signatures; counts go through Intl.PluralRules.
 */
export const en = {
  language: 'en',
  locale: 'en-GB',
  product: 'Basinbell',
  units: {
    minutes: (n: number) => `${n} min`,
    seconds: (n: number) => `${n} s`,
    hours: (n: number) => `${n} h`,
  },
  levels: { DANGER: 'DANGER', WARNING: 'WARNING', CAUTION: 'CAUTION', NOTICE: 'NOTICE' },
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
  },
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
    left: (seconds: number) => one(seconds, { one: `${seconds} second left`, other: `${seconds} seconds left` }),
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

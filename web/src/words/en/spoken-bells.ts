import type { BellKind } from '../../../../core/bells/bell.ts';

const SMALL = [
  ...['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'],
  ...['thirteen', 'fourteen', 'fifteen', 'sixteen', 'seventeen', 'eighteen', 'nineteen'],
];
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

/** 0 to 999, as numbers of chairs are; voices differ in how they read digits. */
function spelled(n: number): string {
  if (n >= 100) {
    const rest = n % 100;
    return `${SMALL[Math.floor(n / 100)]} hundred${rest === 0 ? '' : ` and ${spelled(rest)}`}`;
  }
  if (n < 20) return SMALL[n] ?? String(n);
  const unit = n % 10;
  return `${TENS[Math.floor(n / 10)]}${unit === 0 ? '' : `-${SMALL[unit]}`}`;
}

/**
 * What the wall says aloud, among clients (W4): which chair and what to do; no level, no name, nothing that frightens. Short enough
 * for the gap after a burst.
 */
export const spokenBells = {
  number: spelled,
  /** "chair six, rinse now" */
  at: (chair: string, deed: string) => `chair ${chair}, ${deed}`,
  test: 'this is a test',
  deeds: {
    'begun?': 'ready to begin?',
    pace: 'a second pair of hands, please',
    test: 'test a strand',
    'water-on?': 'is the water on?',
    soon: 'rinse soon',
    rinse: 'rinse now',
    over: 'rinse now',
    water: 'look whether it runs clear',
    dwell: 'next step, please',
    'back-to-rinse': 'back to the rinse',
    'long-stage': 'have a look, please',
    unattended: 'is anybody there?',
    tingles: 'have a look, please',
    help: 'a second opinion, please',
    burns: 'water now',
    abandoned: 'come to the desk, please',
    'nobody-reached': 'look at the wall, please',
    'time-uncertain': 'look at the hair now',
    'not-saved': 'look at the wall, please',
  } satisfies Record<BellKind, string>,
  /** A bell to rinse that stands before the window opens, and one while the time is lost. */
  rinseSoon: 'get ready to rinse',
  look: 'look at the hair now',
} as const;

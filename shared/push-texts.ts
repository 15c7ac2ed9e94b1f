import type { BellKind } from '../core/bells/bell.ts';
import type { BellLevel } from '../core/bells/level.ts';

/** Clock times as people read them; null where there is none. */
export interface PushTimes {
  readonly from: string | null;
  readonly by: string | null;
}

/** What a push says, in one language. Places by their labels; never a client, and nobody's name. */
export interface PushTexts {
  readonly dir: 'ltr' | 'rtl';
  /** The deed, short: it stands behind the place. */
  readonly deeds: Readonly<Record<BellKind, string>>;
  readonly at: (place: string, deed: string) => string;
  readonly levels: Readonly<Record<BellLevel, string>>;
  readonly times: (times: PushTimes) => string | null;
  readonly ended: string;
  readonly endedBody: string;
  readonly test: { readonly title: string; readonly body: string };
}

const english: PushTexts = {
  dir: 'ltr',
  deeds: {
    'begun?': 'has it begun?',
    pace: 'a second pair of hands',
    soon: 'rinse soon',
    test: 'test a strand',
    rinse: 'rinse now',
    over: 'past its time, rinse now',
    'water-on?': 'is the water on?',
    water: 'rinsed for the minimum',
    dwell: 'the step has had its time',
    'back-to-rinse': 'back to the basin, rinse again',
    'long-stage': 'longer here than planned',
    unattended: 'is the client still there?',
    burns: 'burns or in the eye, water now',
    tingles: 'it tingles, come and look',
    help: 'help is wanted',
    abandoned: 'left with product on',
    'nobody-reached': 'nobody can be reached',
    'time-uncertain': 'the clock was lost, look at the hair',
    'not-saved': 'the server cannot save',
  },
  at: (place, deed) => `${place}: ${deed}`,
  levels: { DANGER: 'Danger', WARNING: 'Warning', CAUTION: 'Caution', NOTICE: 'Notice' },
  times: ({ from, by }) => {
    if (from !== null && by !== null) return `from ${from}, off by ${by}`;
    if (by !== null) return `off by ${by}`;
    return from === null ? null : `from ${from}`;
  },
  ended: 'no longer needed',
  endedBody: 'This bell has ended.',
  test: { title: 'Test of this phone', body: 'A push has come through. Bells will come like this.' },
};

/** By the first part of a language tag (BCP 47). Another language is another line here. */
const all: Readonly<Record<string, PushTexts>> = { en: english };

/** The texts of a language and its tag; English where there are none yet. */
export function pushTexts(language: string): { readonly lang: string; readonly texts: PushTexts } {
  const [lang = ''] = language.toLowerCase().split('-');
  const found = all[lang];
  return found === undefined ? { lang: 'en', texts: english } : { lang, texts: found };
}

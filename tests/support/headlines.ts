import { defaultFigures } from '../../core/salon/salon.ts';
import { headline, type Headline } from '../../core/visit/headline.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import { NOON } from './floor-life.ts';
import { min } from './pass-kit.ts';

/** The salon's default figures and a time that is certain; `now` is put in by each test. */
export const NOTHING_UNCERTAIN = { now: NOON, figures: defaultFigures, uncertain: false };

export const lineOf = (visit: VisitFacts, minutes: number): Headline =>
  headline(visit, { ...NOTHING_UNCERTAIN, now: min(minutes) });

/** What the model knows of one chair. Written from the rules in words; times and lengths in whole seconds. */
export const stages = [
  'none',
  'prep',
  'apply',
  'process',
  'rinse',
  'neutralize',
  'condition',
  'dry',
  'finished',
] as const;
export type Stage = (typeof stages)[number];

export type Finishing =
  | { kind: 'shampoos'; count: number; dwell: number; proof: 'indicator' | 'strip' | 'count'; limit: number | null }
  | { kind: 'neutralizer'; minAfter: number; maxAfter: number; rinse: number; rods: boolean }
  | { kind: 'condition'; dwell: number };

/** What can be told otherwise for one head, or under heat (E9, E10). */
export interface Limits {
  minAfter: number;
  maxAfter: number;
  ceiling: number | null;
}

/** Figures of one product, as a salon would copy them. */
export interface Leaflet {
  kind: 'hydroxide' | 'thio' | 'lightener' | 'colour' | 'other';
  minAfter: number;
  maxAfter: number;
  ceiling: number | null;
  minTotal: number | null;
  /** Planned application of the whole head, and each part's share of it. */
  nominal: number;
  shares: number[];
  byPart: boolean;
  firstTest: number;
  testEvery: number;
  grace: number;
  heat: 'never' | 'allowed' | 'required';
  underHeat: Limits | null;
  /** One entry per part in the order of work; a number is that part's own ceiling. */
  parts: (number | null)[];
  rinse: number;
  finishing: Finishing[];
}

export interface Offer {
  passes: Leaflet[];
  limits: Partial<Record<Stage, number>>;
}

/** When something was done, and as which act at this head. */
export interface Done {
  at: number;
  act: number;
}

/** One pair of hands at the application (P0). */
export interface Hands {
  by: string | null;
  from: number;
  until: number | null;
}

export interface StrandTest extends Done {
  ready: boolean;
  part: number | null;
}

export interface PassLife {
  /** Null: nobody said what product. */
  leaflet: Leaflet | null;
  begun: Done | null;
  unknown: boolean;
  parts: { part: number; by: string | null; at: number; act: number }[];
  /** Whoever began comes first. */
  hands: Hands[];
  /** Parts that were in work when a helper went, and since when (P0). */
  keptBegins: { part: number; from: number }[];
  tests: StrandTest[];
  /** What was last said of heat; null: nothing. */
  heat: boolean | null;
  heated: boolean;
  /** Told otherwise for this head, with heat and without; null: as the directions say. */
  own: { cold: Limits | null; warm: Limits | null };
  applied: Done | null;
  water: Done | null;
  /** Water has ever been on for this product: it waits for none, whatever comes later. */
  everWet: boolean;
  /** The first water ever: whether somebody is asked if it is on, and since when (bell `water-on?`). */
  firstWater: { at: number; doubtful: boolean; answered: boolean } | null;
  clear: Done | null;
  shampoos: { at: number; act: number; indicator: 'colourless' | 'coloured' | null; strip: number | null }[];
  neutralizerOn: Done | null;
  neutralizerWater: Done | null;
  rods: Done | null;
}

export type Level = 'NOTICE' | 'CAUTION' | 'WARNING' | 'DANGER';
type Asking = 'begun?' | 'pace' | 'test' | 'water-on?' | 'water' | 'dwell' | 'back-to-rinse' | 'long-stage';
type Plain = Asking | 'tingles' | 'burns' | 'abandoned';
export type Cause = 'off' | 'neutralizer' | Plain;
export type Kind = 'soon' | 'rinse' | 'over' | Plain;

export interface Standing {
  kind: Kind;
  level: Level;
  episode: number;
  /** Since when it has its present row and level. */
  since: number;
  taken: { by: string; at: number } | null;
  /** Who said that they cannot go, at this level. */
  passed: string[];
}

export interface Owed {
  item: string;
  stage: Stage;
  pass: number;
}

export interface Head {
  /** Counts the visits at this chair. */
  serial: number;
  stage: Stage;
  pass: number;
  passes: PassLife[];
  limits: Partial<Record<Stage, number>>;
  stageAt: number;
  /** The act that came to this stage. */
  stageAct: number;
  owed: Owed[];
  /** When prep was said to be complete (bell `begun?`). */
  prepared: number | null;
  /** The moment of the latest act (X3). */
  latestAt: number;
  /** `pass`: in which it was reported. */
  burns: { place: 'skin' | 'eye'; pass: number; water: boolean; open: boolean } | null;
  /** It itches or tingles: since when, and what came of it (S6). */
  tingles: { at: number; answer: string | null } | null;
  stylist: string | null;
  /** To whom the head is being handed over. */
  offered: string | null;
  end: 'done' | 'next-seated' | 'abandoned' | 'abandoned-with-product' | 'discarded' | null;
  settled: boolean;
  /** Number of acts at this head; a sender's `seen` is one of these. */
  acts: number;
  /** What a take-back would undo: when it was done and the head before it (null: there was no visit). */
  last: { at: number; act: number; before: Head | null } | null;
  /** The visit that this one ended by taking its chair. */
  ended: Head | null;
  bells: Partial<Record<Cause, Standing>>;
  episodes: Partial<Record<Cause, number>>;
}

export function unbegun(leaflet: Leaflet | null): PassLife {
  return {
    leaflet,
    begun: null,
    unknown: false,
    parts: [],
    hands: [],
    keptBegins: [],
    tests: [],
    heat: null,
    heated: false,
    own: { cold: null, warm: null },
    applied: null,
    water: null,
    everWet: false,
    firstWater: null,
    clear: null,
    shampoos: [],
    neutralizerOn: null,
    neutralizerWater: null,
    rods: null,
  };
}

export function passOf(head: Head): PassLife {
  const pass = head.passes[head.pass];
  if (pass === undefined) throw new Error('a head without its pass');
  return pass;
}

export function withPass(head: Head, change: Partial<PassLife>): Head {
  return { ...head, passes: head.passes.map((one, index) => (index === head.pass ? { ...one, ...change } : one)) };
}

/** On from first touch (known or not) until off (S2, S9). */
export function productOn(head: Head): boolean {
  return (
    head.stage !== 'finished' && head.passes.some((one) => (one.begun !== null || one.unknown) && one.clear === null)
  );
}

/** The finishing step that a stage of a pass stands for. */
export function finishingOf(pass: PassLife, stage: Stage): Finishing | null {
  const fits = (step: Finishing) => (step.kind === 'condition' ? 'condition' : 'neutralize') === stage;
  return pass.leaflet?.finishing.find(fits) ?? null;
}

export interface Place {
  stage: Stage;
  pass: number;
}

/** S1, S10: every stage of every pass in turn, then dry, finished. */
export function wayOf(head: Head): Place[] {
  const way: Place[] = [];
  head.passes.forEach((one, pass) => {
    const finishing = (one.leaflet?.finishing ?? []).map((step) =>
      step.kind === 'condition' ? 'condition' : 'neutralize',
    );
    for (const stage of ['prep', 'apply', 'process', 'rinse', ...finishing] as Stage[]) way.push({ stage, pass });
  });
  const pass = head.passes.length - 1;
  return [...way, { stage: 'dry', pass }, { stage: 'finished', pass }];
}

export function placeOnWay(way: Place[], place: Place): number {
  return way.findIndex((one) => one.stage === place.stage && one.pass === place.pass);
}

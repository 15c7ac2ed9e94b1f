import type { VisitId } from '../ids.ts';
import type { EpochMs } from '../time.ts';
import type { OwedNow, PassPlan, VisitEvent, VisitEventType } from './events.ts';
import { actedAt, seatedBy, tinglesAnswered } from './evolve-beside.ts';
import type { Entry } from './entry.ts';
import { begun, heatSet, helperJoined, helperLeft, limitsSet, partDone, strandTested } from './evolve-application.ts';
import type { Stage } from './stages/stage.ts';
import type { Mark, Pass, VisitFacts, Water } from './visit.ts';

type EventOf<T extends VisitEventType> = Extract<VisitEvent, { type: T }>;
type Apply<T extends VisitEventType> = (facts: VisitFacts, event: EventOf<T>, mark: Mark) => VisitFacts;

function newPass(plan: PassPlan): Pass {
  return {
    directions: plan.directions,
    directionsVersion: plan.version,
    rules: plan.rules,
    begun: null,
    beginUnknown: false,
    parts: [],
    hands: [],
    leftInWork: [],
    tests: [],
    heat: null,
    heated: false,
    limits: null,
    applied: null,
    water: null,
    firstWater: null,
    clear: null,
    shampoos: [],
    neutralizerOn: null,
    neutralizerWater: null,
    rodsOut: null,
    closeBought: false,
  };
}

/** A visit as it is at its first event. */
export function seated(id: VisitId, entry: Entry): VisitFacts {
  const { event, at, by, version } = entry;
  if (event.type !== 'VisitSeated') throw new Error(`a visit begins by being seated, not by ${event.type}`);
  return {
    id,
    version,
    chair: event.chair,
    service: event.service,
    stylist: event.stylist,
    seatedAt: at,
    stage: 'prep',
    pass: 0,
    passes: event.passes.map(newPass),
    limits: event.limits,
    way: [{ stage: 'prep', pass: 0, at, by, version }],
    owed: [],
    burns: null,
    bells: [],
    episodes: [],
    lastMove: null,
    end: null,
    prepared: null,
    settled: null,
    attendedAt: null,
    timeLostAt: null,
    acts: seatedBy(entry),
    tingles: null,
    offered: null,
  };
}

function onPass(facts: VisitFacts, change: (pass: Pass) => Pass, index = facts.pass): VisitFacts {
  return { ...facts, passes: facts.passes.map((pass, i) => (i === index ? change(pass) : pass)) };
}

function toStage(facts: VisitFacts, stage: Stage, pass: number, mark: Mark): VisitFacts {
  // What was said of one prep says nothing of the next (bell `begun?`).
  return { ...facts, stage, pass, prepared: null, way: [...facts.way, { ...mark, stage, pass }] };
}

function owing(facts: VisitFacts, owed: readonly OwedNow[], mark: Mark): VisitFacts {
  if (owed.length === 0) return facts;
  return { ...facts, owed: [...facts.owed, ...owed.map((one) => ({ ...one, version: mark.version, reason: null }))] };
}

/** Ends the application at its last part's end or at the touch that said so (S3). */
function applied(facts: VisitFacts, mark: Mark): VisitFacts {
  return toStage(
    onPass(facts, (pass) => ({ ...pass, applied: mark })),
    'process',
    facts.pass,
    mark,
  );
}

/** Application ends with whichever part was done last, not with whichever was marked last (S3). */
function latestDone(pass: Pass, at: EpochMs): EpochMs {
  return pass.parts.reduce((last, one) => Math.max(last, one.doneAt), at);
}

const partMarkedDone: Apply<'PartMarkedDone'> = (facts, { part }, mark) => {
  const next = onPass(facts, (pass) => partDone(pass, part, mark));
  const pass = next.passes[next.pass];
  const whole = pass?.rules?.parts.length ?? 0;
  const last = facts.stage === 'apply' && pass !== undefined && pass.parts.length >= whole;
  return last ? applied(next, { ...mark, at: latestDone(pass, mark.at) }) : next;
};

/** Ready while a whole-head product is still going on ends the application: that strand must come off (E6). */
const strandTestedAt: Apply<'StrandTested'> = (facts, event, mark) => {
  const next = onPass(facts, (pass) => strandTested(pass, event, mark));
  const whole = next.passes[next.pass]?.rules?.manner !== 'by-part';
  return facts.stage === 'apply' && event.result === 'ready' && whole ? applied(next, mark) : next;
};

/** The first water is known to have been on once a later word names the basin, or water ran clear (bell `water-on?`). */
function answered(pass: Pass, named: boolean): Water | null {
  const confirmed = named || pass.clear !== null;
  return pass.firstWater && confirmed ? { ...pass.firstWater, confirmed } : pass.firstWater;
}

/** The window is judged by the first water; the one that runs is left alone. */
function earlierWater(pass: Pass, water: Water): Pass {
  const first = pass.firstWater;
  return first !== null && first.at <= water.at ? pass : { ...pass, firstWater: { ...water, confirmed: true } };
}

const rinseBegun: Apply<'RinseBegun'> = (facts, { basin, owed }, mark) => {
  const water: Water = { ...mark, basin, confirmed: false };
  const noted = owing(facts, owed, mark);
  if (facts.stage === 'finished') return onPass(noted, (one) => earlierWater(one, water));
  const pass = facts.passes[facts.pass];
  const neutralizing =
    facts.stage === 'neutralize' && pass?.rules?.finishing.some((step) => step.kind === 'neutralizer');
  if (neutralizing) {
    const first = pass?.neutralizerWater ?? null;
    return onPass(noted, (one) => ({ ...one, neutralizerWater: first !== null && mark.at < first.at ? first : water }));
  }
  // Told late: it was on before the water that is known, which goes on running (X3).
  const known = facts.stage === 'rinse' || pass?.clear !== null ? (pass?.water ?? null) : null;
  if (known !== null && mark.at < known.at) return onPass(noted, (one) => earlierWater(one, water));
  const wet = onPass(noted, (one) => ({
    ...one,
    beginUnknown: one.beginUnknown || one.begun === null,
    water,
    firstWater: answered(one, basin !== null) ?? water,
    clear: null,
    closeBought: false,
  }));
  const rinsing = facts.stage === 'rinse' ? wet : toStage(wet, 'rinse', facts.pass, mark);
  const { burns } = rinsing;
  if (burns === null || burns.waterAt !== null) return rinsing;
  return { ...rinsing, burns: { ...burns, waterAt: Math.max(mark.at, burns.at) } };
};

const basinNamed: Apply<'BasinNamed'> = (facts, { basin }) =>
  onPass(facts, (pass) => {
    if (facts.stage === 'neutralize' && pass.neutralizerWater !== null) {
      return { ...pass, neutralizerWater: { ...pass.neutralizerWater, basin, confirmed: true } };
    }
    if (pass.water === null) return pass;
    const water = { ...pass.water, basin, confirmed: true };
    return { ...pass, water, firstWater: pass.firstWater?.version === water.version ? water : answered(pass, true) };
  });

function isOff(pass: Pass, mark: Mark): Pass {
  return { ...pass, clear: pass.clear ?? mark };
}

/** Whatever comes after rinse says that the product is off; a pass that was skipped whole never was on. */
function moveOn(facts: VisitFacts, to: Stage, toPass: number, owed: readonly OwedNow[], mark: Mark): VisitFacts {
  const off = onPass(facts, (pass) => (pass.begun !== null || pass.beginUnknown ? isOff(pass, mark) : pass));
  return toStage(owing(off, owed, mark), to, toPass, mark);
}

const burnsReported: Apply<'BurnsReported'> = (facts, { place }, mark) => {
  const pass = facts.passes[facts.pass];
  const flowing = facts.stage === 'rinse' && pass?.water !== null && pass?.clear === null;
  const burns = { place, at: mark.at, by: mark.by, waterAt: flowing ? mark.at : null, closed: null };
  if (facts.stage === 'rinse') return { ...facts, burns };
  // From any other stage the head needs water anew, whatever was rinsed before (S6).
  const dry = onPass(facts, (one) => ({
    ...one,
    firstWater: answered(one, false),
    water: null,
    clear: null,
    beginUnknown: one.beginUnknown || one.begun === null,
  }));
  return { ...toStage(dry, 'rinse', facts.pass, mark), burns };
};

const appliers = {
  VisitSeated: (facts) => facts,
  ServiceChosen: (facts, event) => ({
    ...facts,
    service: event.service,
    passes: event.passes.map(newPass),
    limits: event.limits,
  }),
  StylistNamed: (facts, { stylist }) => ({ ...facts, stylist, offered: null }),
  HeadOffered: (facts, { to }, mark) => ({ ...facts, offered: { ...mark, to } }),
  OfferAnswered: (facts, { accepted }) => ({
    ...facts,
    stylist: accepted && facts.offered !== null ? facts.offered.to : facts.stylist,
    offered: null,
  }),
  TinglesReported: (facts, _event, mark) => ({ ...facts, tingles: { at: mark.at, by: mark.by, answered: null } }),
  TinglesAnswered: (facts, { answer }, mark) => tinglesAnswered(facts, answer, mark),
  LabelWritten: (facts) => facts,
  ApplicationBegun: (facts, { pass, owed }, mark) =>
    toStage(
      onPass(owing(facts, owed, mark), (one) => begun(one, mark), pass),
      'apply',
      pass,
      mark,
    ),
  PartMarkedDone: partMarkedDone,
  ApplicationFinished: (facts, _event, mark) => applied(facts, mark),
  PrepSaid: (facts, { complete }, mark) => ({ ...facts, prepared: complete ? mark : null }),
  HelperJoined: (facts, event, mark) => onPass(facts, (pass) => helperJoined(pass, event, mark)),
  HelperLeft: (facts, event, mark) => onPass(facts, (pass) => helperLeft(pass, event, mark)),
  StrandTested: strandTestedAt,
  HeatSet: (facts, { on }, mark) => onPass(facts, (pass) => heatSet(pass, on, mark)),
  LimitsSet: (facts, event, mark) =>
    onPass(facts, (pass) => ({ ...limitsSet(pass, event), limits: { ...mark, raised: event.raised } })),
  RinseBegun: (facts, event, mark) => rinseBegun(tinglesAnswered(facts, 'to-water', mark), event, mark),
  BasinNamed: basinNamed,
  WentClear: (facts, { to, toPass, owed }, mark) =>
    moveOn(
      onPass(facts, (pass) => isOff(pass, mark)),
      to,
      toPass,
      owed,
      mark,
    ),
  ShampooMarked: (facts, { indicator, strip }, mark) =>
    onPass(facts, (pass) => ({ ...pass, shampoos: [...pass.shampoos, { ...mark, indicator, strip }] })),
  NeutralizerPutOn: (facts, _event, mark) => onPass(facts, (pass) => ({ ...pass, neutralizerOn: mark })),
  RodsTakenOut: (facts, _event, mark) => onPass(facts, (pass) => ({ ...pass, rodsOut: mark })),
  MovedOn: (facts, { to, toPass, owed }, mark) => moveOn(facts, to, toPass, owed, mark),
  VisitEnded: (facts, { end, owed }, mark) => ({
    ...toStage(owing(facts, owed, mark), 'finished', facts.pass, mark),
    end,
  }),
  MovedTo: (facts, { chair }) => ({ ...facts, chair }),
  BurnsReported: (facts, event, mark) => burnsReported(tinglesAnswered(facts, 'burns', mark), event, mark),
  BurnsClosed: (facts, { done }, mark) => ({
    ...facts,
    burns: facts.burns && { ...facts.burns, closed: { ...mark, done } },
  }),
  AbandonedSettled: (facts, _event, mark) => ({ ...facts, settled: mark }),
  ReasonGiven: (facts, { version, item, reason }) => ({
    ...facts,
    owed: facts.owed.map((one) => (one.version === version && one.item === item ? { ...one, reason } : one)),
  }),
  TimeCorrected: (facts, { bought }) => (bought ? onPass(facts, (pass) => ({ ...pass, closeBought: true })) : facts),
  MoveTakenBack: (facts, { versions }, mark) =>
    versions.includes(facts.way[0]?.version ?? -1)
      ? { ...toStage(facts, 'finished', facts.pass, mark), end: 'discarded' }
      : facts,
  StatementKept: (facts) => facts,
  AttendedSaid: (facts, _event, mark) => ({ ...facts, attendedAt: mark.at }),
  WordsErased: (facts) => facts,
  TimeLost: (facts) => facts,
  TimeFound: (facts) => facts,
  BellRung: (facts) => facts,
  BellWidened: (facts) => facts,
  BellTaken: (facts) => facts,
  BellPassed: (facts) => facts,
  BellShown: (facts) => facts,
  BellNotReached: (facts) => facts,
  BellEnded: (facts) => facts,
} satisfies { [T in VisitEventType]: Apply<T> };

/** The facts after one entry of the history. */
export function step(facts: VisitFacts, entry: Entry): VisitFacts {
  const apply = appliers[entry.event.type] as (facts: VisitFacts, event: VisitEvent, mark: Mark) => VisitFacts;
  const next = apply(facts, entry.event, { at: entry.at, by: entry.by, version: entry.version });
  return { ...actedAt(next, entry), version: Math.max(facts.version, entry.version) };
}

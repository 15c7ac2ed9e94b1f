import { expectedFinish } from './hands.ts';
import { finishingOf, passOf, productOn, type Cause, type Head, type Kind, type Level, type PassLife } from './head.ts';
import { ceilingAt, certainClose, closeExpected, limitsOf, nextTest, opens, readyOf } from './window.ts';

const MINUTE = 60;
const levels: Level[] = ['NOTICE', 'CAUTION', 'WARNING', 'DANGER'];
const kinds: Kind[] = ['soon', 'rinse', 'over'];

interface Row {
  cause: Cause;
  kind: Kind;
  level: Level;
}

/** R2: soon, rinse, over of the product on the hair. */
function offRow(head: Head, now: number): Row | null {
  const pass = passOf(head);
  if (!productOn(head) || pass.everWet || pass.leaflet === null) return null;
  const close = certainClose(pass);
  if (close === null) return null;
  const colour = pass.leaflet.kind === 'colour';
  const cause = 'off';
  if (now >= close) {
    const calm = now >= close + 10 * MINUTE ? 'WARNING' : 'CAUTION';
    return { cause, kind: 'over', level: pass.leaflet.kind === 'hydroxide' ? 'DANGER' : colour ? calm : 'WARNING' };
  }
  const strand = readyOf(pass) !== null;
  if (strand || now >= close - 3 * MINUTE) return { cause, kind: 'rinse', level: colour ? 'CAUTION' : 'WARNING' };
  const open = opens(pass);
  if (open !== null && pass.applied !== null && now >= Math.min(open, close) - 3 * MINUTE)
    return { cause, kind: 'soon', level: 'NOTICE' };
  return null;
}

/** P3, P4: once it rings it is withdrawn with a minute to spare. */
function paceRow(head: Head, now: number): Row | null {
  const pass = passOf(head);
  if (head.stage !== 'apply' || pass.leaflet === null || pass.leaflet.byPart) return null;
  const ceiling = ceilingAt(pass);
  const limits = limitsOf(pass);
  const expected = expectedFinish(pass, now);
  if (ceiling === null || limits === null || expected === null) return null;
  const latest = ceiling - limits.minAfter - 2 * MINUTE;
  // Half a millisecond: shares are no whole numbers.
  const late = expected - 0.0005 >= latest - (head.bells.pace === undefined ? 0 : MINUTE);
  return late ? { cause: 'pace', kind: 'pace', level: 'CAUTION' } : null;
}

function begunRow(head: Head, now: number): Row | null {
  if (head.stage !== 'prep' || head.prepared === null || now < head.prepared + 3 * MINUTE) return null;
  const level = now >= head.prepared + 8 * MINUTE ? 'CAUTION' : 'NOTICE';
  return { cause: 'begun?', kind: 'begun?', level };
}

function testRow(head: Head, now: number): Row | null {
  const due = head.stage === 'process' ? nextTest(passOf(head)) : null;
  return due !== null && now >= due ? { cause: 'test', kind: 'test', level: 'CAUTION' } : null;
}

/** Whether the water said to be on really is. An unknown begin counts as past its close (S2); an unknown product has none. */
function waterOnRow(head: Head, now: number): Row | null {
  const pass = passOf(head);
  const first = pass.firstWater;
  if (head.stage !== 'rinse' || pass.water === null || first === null || !first.doubtful || first.answered) return null;
  // Whoever is burnt is not asked (R2).
  if (head.burns?.pass === head.pass || now < first.at + 90) return null;
  const close = closeExpected(pass, first.at);
  const past = (pass.unknown && pass.leaflet !== null) || (close !== null && now >= close);
  return { cause: 'water-on?', kind: 'water-on?', level: past ? 'WARNING' : 'CAUTION' };
}

/** S1: the neutralizer's own window, never above CAUTION. */
function neutralizerRow(head: Head, now: number): Row | null {
  const pass = passOf(head);
  const step = finishingOf(pass, head.stage);
  if (step?.kind !== 'neutralizer' || pass.neutralizerOn === null || pass.neutralizerWater !== null) return null;
  const close = pass.neutralizerOn.at + step.maxAfter;
  const cause = 'neutralizer';
  if (now >= close) return { cause, kind: 'over', level: 'CAUTION' };
  if (now >= close - 3 * MINUTE) return { cause, kind: 'rinse', level: 'CAUTION' };
  const soon = Math.min(pass.neutralizerOn.at + step.minAfter, close) - 3 * MINUTE;
  return now >= soon ? { cause, kind: 'soon', level: 'NOTICE' } : null;
}

/** S5: a failed proof on a shampoo that could have been the last adds one. */
export function shampoosWanted(pass: PassLife): number {
  const step = finishingOf(pass, 'neutralize');
  if (step?.kind !== 'shampoos') return 0;
  return pass.shampoos.reduce((wanted, one, index) => {
    const failed =
      one.indicator === 'coloured' || (one.strip !== null && step.limit !== null && one.strip > step.limit);
    return failed && index + 1 >= wanted ? index + 2 : wanted;
  }, step.count);
}

/** When the least time of what is being done at the basin is reached; null when nothing waits for a least time. */
function leastReached(head: Head): number | null {
  const pass = passOf(head);
  const step = finishingOf(pass, head.stage);
  if (step === null) return null;
  switch (step.kind) {
    case 'condition':
      return head.stageAt + step.dwell;
    case 'neutralizer':
      return pass.neutralizerWater === null ? null : pass.neutralizerWater.at + step.rinse;
    case 'shampoos': {
      if (pass.shampoos.length >= shampoosWanted(pass)) return null;
      return Math.max(head.stageAt, ...pass.shampoos.map((one) => one.at)) + step.dwell;
    }
    default:
      throw new Error(step satisfies never);
  }
}

/** S5: two more shampoos than asked for still fail, the last among them. */
function backToRinse(head: Head): Row[] {
  const pass = passOf(head);
  const step = finishingOf(pass, head.stage);
  if (step?.kind !== 'shampoos') return [];
  const failed = pass.shampoos.map(
    ({ indicator, strip }) => indicator === 'coloured' || (strip !== null && step.limit !== null && strip > step.limit),
  );
  const extra = failed.slice(step.count).filter(Boolean).length;
  const rings = failed.at(-1) === true && extra >= 2;
  return rings ? [{ cause: 'back-to-rinse', kind: 'back-to-rinse', level: 'CAUTION' }] : [];
}

/** S6: unanswered for a minute it is as bad as burns; whoever goes within that minute has one more. */
function tinglesRow(head: Head, now: number): Row[] {
  if (head.tingles === null || head.tingles.answer !== null) return [];
  const { at } = head.tingles;
  const goes = head.bells.tingles?.taken?.at ?? at;
  const until = Math.min(Math.max(goes, at), at + 60) + 60;
  return [{ cause: 'tingles', kind: 'tingles', level: now >= until ? 'DANGER' : 'CAUTION' }];
}

function rows(head: Head, now: number): Row[] {
  const harm: Row[] = head.burns?.open === true ? [{ cause: 'burns', kind: 'burns', level: 'DANGER' }] : [];
  if (head.stage === 'finished') {
    const left = head.end === 'abandoned-with-product' && !head.settled;
    return left ? [...harm, { cause: 'abandoned', kind: 'abandoned', level: 'WARNING' }] : harm;
  }
  const found: (Row | null)[] = [
    offRow(head, now),
    neutralizerRow(head, now),
    begunRow(head, now),
    paceRow(head, now),
    testRow(head, now),
    waterOnRow(head, now),
  ];
  const pass = passOf(head);
  const water = head.stage === 'rinse' ? pass.water : null;
  if (water !== null && pass.leaflet !== null && now >= water.at + pass.leaflet.rinse) {
    found.push({ cause: 'water', kind: 'water', level: 'NOTICE' });
  }
  const least = leastReached(head);
  if (least !== null && now >= least) found.push({ cause: 'dwell', kind: 'dwell', level: 'NOTICE' });
  const limit = head.limits[head.stage];
  if (limit !== undefined && now >= head.stageAt + limit) {
    found.push({ cause: 'long-stage', kind: 'long-stage', level: 'CAUTION' });
  }
  return [...harm, ...tinglesRow(head, now), ...backToRinse(head), ...found.filter((row) => row !== null)];
}

/** R2: what stands after `now`, given what stood: later rows replace, no level falls, an unsupported cause ends. */
export function ring(head: Head, now: number): Head {
  const bells: Head['bells'] = {};
  const episodes = { ...head.episodes };
  let changed = false;
  for (const { cause, kind, level } of rows(head, now)) {
    const stood = head.bells[cause];
    if (stood === undefined) {
      changed = true;
      episodes[cause] = (episodes[cause] ?? 0) + 1;
      bells[cause] = { kind, level, episode: episodes[cause], since: now, taken: null, passed: [] };
    } else {
      const higher = levels.indexOf(level) > levels.indexOf(stood.level) ? level : stood.level;
      const later = kinds.indexOf(kind) > kinds.indexOf(stood.kind) ? kind : stood.kind;
      const same = higher === stood.level && later === stood.kind;
      // Whoever could not go is asked again once it is worse.
      const passed = higher === stood.level ? stood.passed : [];
      bells[cause] = same ? stood : { ...stood, kind: later, level: higher, since: now, passed };
      changed ||= !same;
    }
  }
  if (!changed && Object.keys(bells).length === Object.keys(head.bells).length) return head;
  return { ...head, bells, episodes };
}

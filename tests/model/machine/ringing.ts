import { finishingOf, passOf, productOn, type Cause, type Head, type Kind, type Level, type PassLife } from './head.ts';

const MINUTE = 60;
const levels: Level[] = ['NOTICE', 'CAUTION', 'WARNING', 'DANGER'];
const kinds: Kind[] = ['soon', 'rinse', 'over'];

/** E5: part i's first touch. With marks the next of the plan is in work; after F the rest ran from the last mark too. */
function firstTouches(pass: PassLife, begun: number): { part: number; from: number }[] {
  if (pass.parts.length === 0) return [];
  const marked = pass.parts.map(({ part, from }) => ({ part, from }));
  const lastMark = Math.max(begun, ...pass.parts.map((one) => one.at));
  const open = (pass.leaflet?.parts ?? [])
    .map((_, part) => part)
    .filter((part) => !marked.some((one) => one.part === part));
  const working = pass.applied === null ? open.slice(0, 1) : open;
  return [...marked, ...working.map((part) => ({ part, from: lastMark }))];
}

/** E3: the certain close; null while nothing is certain. */
export function certainClose(pass: PassLife): number | null {
  const { leaflet, begun, applied } = pass;
  if (leaflet === null || begun === null) return null;
  const touches = firstTouches(pass, begun.at);
  const candidates: number[] = [];
  if (touches.length === 0 && leaflet.ceiling !== null) candidates.push(begun.at + leaflet.ceiling);
  for (const { part, from } of touches) {
    const ceiling = leaflet.parts[part] ?? leaflet.ceiling;
    if (ceiling !== null) candidates.push(from + ceiling);
  }
  if (applied !== null) candidates.push(applied.at + leaflet.maxAfter);
  return candidates.length === 0 ? null : Math.min(...candidates);
}

/** E2. */
function opens(pass: PassLife): number | null {
  if (pass.leaflet === null || pass.begun === null || pass.applied === null) return null;
  return Math.max(pass.applied.at + pass.leaflet.minAfter, pass.begun.at + (pass.leaflet.minTotal ?? 0));
}

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
  if (now >= close - 3 * MINUTE) return { cause, kind: 'rinse', level: colour ? 'CAUTION' : 'WARNING' };
  const open = opens(pass);
  if (open !== null && now >= Math.min(open, close) - 3 * MINUTE) return { cause, kind: 'soon', level: 'NOTICE' };
  return null;
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

function rows(head: Head, now: number): Row[] {
  const harm: Row[] = head.burns?.open === true ? [{ cause: 'burns', kind: 'burns', level: 'DANGER' }] : [];
  if (head.stage === 'finished') {
    const left = head.end === 'abandoned-with-product' && !head.settled;
    return left ? [...harm, { cause: 'abandoned', kind: 'abandoned', level: 'WARNING' }] : harm;
  }
  const found: (Row | null)[] = [offRow(head, now), neutralizerRow(head, now)];
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
  return [...harm, ...found.filter((row) => row !== null)];
}

/** R2: what stands after `now`, given what stood: later rows replace, no level falls, an unsupported cause ends. */
export function ring(head: Head, now: number): Head {
  const bells: Head['bells'] = {};
  const episodes = { ...head.episodes };
  for (const { cause, kind, level } of rows(head, now)) {
    const stood = head.bells[cause];
    if (stood === undefined) {
      episodes[cause] = (episodes[cause] ?? 0) + 1;
      bells[cause] = { kind, level, episode: episodes[cause], since: now, taken: null };
    } else {
      const higher = levels.indexOf(level) > levels.indexOf(stood.level) ? level : stood.level;
      const later = kinds.indexOf(kind) > kinds.indexOf(stood.kind) ? kind : stood.kind;
      const same = higher === stood.level && later === stood.kind;
      bells[cause] = { ...stood, kind: later, level: higher, since: same ? stood.since : now };
    }
  }
  return { ...head, bells, episodes };
}

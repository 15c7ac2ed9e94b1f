import { aheadBelieved, done, onVisit, refuse, type Decision, type Setting } from '../decision.ts';
import type { Draft, Recorded } from '../events.ts';
import { visitStream } from '../events.ts';
import { windowOf } from '../exposure/window.ts';
import { visitAt } from '../floor.ts';
import type { VisitId } from '../ids.ts';
import { MINUTE, wholeSecond, type EpochMs, type Ms } from '../time.ts';
import { wordKey } from '../words.ts';
import type { VisitCommand } from './commands/command.ts';
import { isMove, type VisitEvent } from './events.ts';
import type { Entry } from './entry.ts';
import { evolveVisit, lastMoveVersions, type Visit } from './history.ts';

/** A correction that moves a close later by more than this wants a reason (X1). */
const BOUGHT_OVER: Ms = 2 * MINUTE;

/** Moves the moment of an earlier move; the old value, who and when stay on record (X1). Also after the visit has ended. */
export function correctTime(setting: Setting, command: Extract<VisitCommand, { type: 'CorrectTime' }>): Decision {
  const { visit: id, of, reason } = command;
  const to = wholeSecond(Math.min(command.to, setting.now));
  const visit = setting.floor.visits[id];
  if (visit === undefined) return refuse('unknown-visit', { visit: id });
  const index = visit.history.findIndex((entry) => entry.version === of);
  const entry = visit.history[index];
  if (entry === undefined || !isMove(entry.event)) return refuse('unknown-moment', { visit: id });
  if (command.to > setting.now + aheadBelieved) return refuse('time-in-future', { visit: id, field: 'to' });
  if (!fitsBetween(visit, index, to)) return refuse('times-cross', { visit: id, field: 'to' });
  const bought = closeMovedBy(setting, visit, entry, to) > BOUGHT_OVER;
  if (bought && reason === null) return refuse('reason-needed', { visit: id, field: 'reason' });
  const words = reason === null ? [] : [{ key: wordKey.note(id, of), text: reason }];
  const event: VisitEvent = { type: 'TimeCorrected', of, was: entry.at, to, bought, reasoned: reason !== null };
  return done(id, [onVisit(setting, id, event)], words);
}

/** Moves within a stage: they neither border a stage's moment nor keep the order of one another (X1). */
const within: readonly VisitEvent['type'][] = [
  'BasinNamed',
  'PrepSaid',
  'HelperJoined',
  'HelperLeft',
  'StrandTested',
  'HeatSet',
  'LimitsSet',
];

/** Moves within a stage that no first touch can come after. */
const needsProduct: readonly VisitEvent['type'][] = ['HelperJoined', 'HelperLeft', 'StrandTested', 'HeatSet'];

/**
 * Between the moves beside it (X1); a seating done in the same touch is no border before it, for it moves along. Parts may
 * have been done in any order.
 */
function fitsBetween(visit: Visit, index: number, to: EpochMs): boolean {
  const moved = visit.history[index];
  const ready = readyForAll(visit);
  const history = asHappened(visit.history, ready);
  const place = history.findIndex((entry) => entry === moved);
  const isBorder = (entry: Entry): boolean =>
    isMove(entry.event) && (!within.includes(entry.event.type) || ready.has(entry.version));
  const first = moved?.event.type === 'ApplicationBegun';
  const borders = (entry: Entry): boolean =>
    (isBorder(entry) && !(isPart(entry) && isPart(moved))) || (first && needsProduct.includes(entry.event.type));
  const before = history.slice(0, place).filter((entry) => borders(entry) && entry.command !== moved?.command);
  const after = history.slice(place + 1).filter(borders);
  return before.every((entry) => entry.at <= to) && after.every((entry) => to <= entry.at);
}

function isPart(entry: Entry | undefined): boolean {
  return entry?.event.type === 'PartMarkedDone';
}

/** Strands that were ready and spoke for their whole head: one may end the application, as much a border as its finish (E6). */
function readyForAll({ facts }: Visit): ReadonlySet<number> {
  const tests = facts.passes.flatMap((pass) => (pass.rules?.manner === 'by-part' ? [] : pass.tests));
  return new Set(tests.filter(({ result }) => result === 'ready').map(({ version }) => version));
}

/** A forgotten part is recorded after the end of the application that it came before (X3): here it stands before that end. */
function asHappened(history: readonly Entry[], ready: ReadonlySet<number>): readonly Entry[] {
  const told: Entry[] = [];
  // Where the end of the present application stands; null while it runs.
  let end: number | null = null;
  for (const entry of history) {
    if (isPart(entry) && end !== null) {
      told.splice(end, 0, entry);
      end += 1;
      continue;
    }
    if (entry.event.type === 'ApplicationBegun') end = null;
    if (entry.event.type === 'ApplicationFinished' || ready.has(entry.version)) end ??= told.length;
    told.push(entry);
  }
  return told;
}

/** How much later the close of the visit's present product comes to lie; not positive if earlier or unknown. */
function closeMovedBy(setting: Setting, visit: Visit, entry: Entry, to: EpochMs): number {
  const was = entry.at;
  const after = foreseen(setting, visit, {
    type: 'TimeCorrected',
    of: entry.version,
    was,
    to,
    bought: false,
    reasoned: false,
  });
  const closeOf = (one: Visit): EpochMs | null => {
    const pass = one.facts.passes[one.facts.pass];
    return pass === undefined || pass.water !== null ? null : (windowOf(pass, setting.now)?.closesAt ?? null);
  };
  const before = closeOf(visit);
  const will = closeOf(after);
  return before === null || will === null ? 0 : will - before;
}

/** The visit as one more event would make it. */
function foreseen(setting: Setting, visit: Visit, event: VisitEvent): Visit {
  const recorded: Recorded = {
    stream: visitStream(visit.facts.id),
    at: setting.now,
    event,
    seq: 0,
    version: visit.facts.version + 1,
    recordedAt: setting.now,
    by: null,
    device: null,
    command: null,
  };
  return evolveVisit(visit, visit.facts.id, recorded);
}

/** Undoes the last move within ten minutes, if nothing but bell steps came after it (X2). */
export function takeBack(setting: Setting, command: Extract<VisitCommand, { type: 'TakeBack' }>): Decision {
  const visit = setting.floor.visits[command.visit];
  if (visit === undefined) return refuse('unknown-visit', { visit: command.visit });
  const { lastMove } = visit.facts;
  if (lastMove === null || setting.now - lastMove.recordedAt > setting.floor.salon.figures.takeBackMs) {
    return refuse('nothing-to-take-back', { visit: command.visit });
  }
  const { seen } = setting.sender;
  if (seen === null || lastMove.version > seen) {
    // Somebody else moved on meanwhile: taking back theirs was not what the sender meant.
    return refuse('moved-on', {
      visit: command.visit,
      since: [{ type: lastMove.type, at: lastMove.at, by: lastMove.by }],
    });
  }
  const versions = lastMoveVersions(visit);
  const taken: VisitEvent = { type: 'MoveTakenBack', versions };
  // Its chair may have its next client by now: one chair holds one open visit.
  const { facts } = foreseen(setting, visit, taken);
  const there = facts.stage === 'finished' ? null : visitAt(setting.floor, facts.chair);
  if (there !== null && there.id !== facts.id) return refuse('place-taken', { visit: there.id, place: facts.chair });
  const events: Draft[] = [onVisit(setting, command.visit, taken)];
  const reopened = endedByThis(setting, visit, versions);
  if (reopened !== null) events.push(reopened);
  return done(command.visit, events);
}

/** Taking back a seating gives the chair back to the visit that it ended, if nothing happened there since. */
function endedByThis(setting: Setting, visit: Visit, versions: readonly number[]): Draft | null {
  const [first] = visit.history;
  if (first?.event.type !== 'VisitSeated' || first.event.after === null || !versions.includes(first.version))
    return null;
  const before: VisitId = first.event.after;
  const other = setting.floor.visits[before];
  const last = other?.history[other.history.length - 1];
  if (last === undefined || last.command !== first.command) return null;
  return onVisit(setting, before, { type: 'MoveTakenBack', versions: [last.version] });
}

import { alreadyDone, doesNotFit, done, onVisit, refuse } from '../../decision.ts';
import { checkRules, type RulesFault } from '../../directions/check.ts';
import { limitsOf } from '../../exposure/limits.ts';
import { handsAtWork, helperWhoGoes, MOST_HANDS } from '../../exposure/parts.ts';
import { readyTest } from '../../exposure/strand-tests.ts';
import { mayRaise } from '../../salon/salon.ts';
import { wordKey } from '../../words.ts';
import { limitsSet } from '../evolve-application.ts';
import type { Pass } from '../visit.ts';
import { currentPass } from '../visit.ts';
import type { OnOpenVisit } from './visit-lookup.ts';

/** Prep is complete: from here somebody is asked whether first touch was forgotten; or it is not, after all. */
export const sayPrep: OnOpenVisit<'SayPrep'> = (setting, visit, { complete }) => {
  const { facts } = visit;
  if (facts.stage !== 'prep') return doesNotFit(setting, visit);
  if (complete && facts.prepared !== null) return alreadyDone(facts.id, facts.prepared, 'PrepSaid');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'PrepSaid', complete })]);
};

export const joinAsHelper: OnOpenVisit<'JoinAsHelper'> = (setting, visit, { person }) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (person !== null && setting.floor.people[person] === undefined)
    return refuse('unknown-person', { field: 'person' });
  if (facts.stage !== 'apply' || pass === null) return doesNotFit(setting, visit);
  const hands = handsAtWork(pass);
  const already = hands.find((one) => person !== null && one.by === person);
  if (already !== undefined) return alreadyDone(facts.id, { at: already.fromAt, by: person }, 'HelperJoined');
  if (hands.length >= MOST_HANDS) return refuse('out-of-range', { visit: facts.id, field: 'person' });
  return done(facts.id, [onVisit(setting, facts.id, { type: 'HelperJoined', person })]);
};

/** A helper goes; with nobody named the nameless one, else the one who joined last. The part in work stays begun (P0). */
export const leaveAsHelper: OnOpenVisit<'LeaveAsHelper'> = (setting, visit, { person }) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (person !== null && setting.floor.people[person] === undefined)
    return refuse('unknown-person', { field: 'person' });
  if (facts.stage !== 'apply' || pass === null || helperWhoGoes(pass, person) === -1) return doesNotFit(setting, visit);
  return done(facts.id, [onVisit(setting, facts.id, { type: 'HelperLeft', person })]);
};

/** A strand was tested (E6); in apply too. Once one was ready there is nothing left to test. */
export const testStrand: OnOpenVisit<'TestStrand'> = (setting, visit, { place, result, part, note }) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if ((facts.stage !== 'apply' && facts.stage !== 'process') || pass === null || pass.rules === null)
    return doesNotFit(setting, visit);
  // Each part of a by-part product comes off by itself, so that a strand speaks for its part alone.
  const wanted = pass.rules.manner === 'by-part';
  if (part === null ? wanted : part >= pass.rules.parts.length)
    return refuse('unknown-part', { visit: facts.id, field: 'part' });
  const ready = readyTest(pass);
  if (ready !== null && pass.rules.manner === 'whole-head') return alreadyDone(facts.id, ready, 'StrandTested');
  const words = note === null ? [] : [{ key: wordKey.note(facts.id, facts.version + 1), text: note }];
  return done(facts.id, [onVisit(setting, facts.id, { type: 'StrandTested', place, result, part })], words);
};

/** Heat on or off (E10); never where the directions say never. */
export const setHeat: OnOpenVisit<'SetHeat'> = (setting, visit, { on }) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if ((facts.stage !== 'apply' && facts.stage !== 'process') || pass === null) return doesNotFit(setting, visit);
  if (on && pass.rules?.heat === 'never') return refuse('against-directions', { visit: facts.id, field: 'on' });
  if (pass.heat !== null && pass.heat.on === on) return alreadyDone(facts.id, pass.heat, 'HeatSet');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'HeatSet', on })]);
};

/** Limits for this head alone (E9). */
export const setLimits: OnOpenVisit<'SetLimits'> = (setting, visit, command) => {
  const { facts } = visit;
  const { id } = facts;
  const pass = currentPass(facts);
  const early = facts.stage === 'prep' || facts.stage === 'apply' || facts.stage === 'process';
  if (!early || pass === null || pass.rules === null) return doesNotFit(setting, visit);
  const { minAfterMs, maxAfterMs, ceilingMs, reason } = command;
  if (minAfterMs === null && maxAfterMs === null && ceilingMs === null)
    return refuse('out-of-range', { visit: id, field: 'minAfterMs' });
  const fault = limitsFault(pass, command);
  if (fault !== null) {
    const code = fault.fault === 'out-of-range' ? 'out-of-range' : 'directions-contradict';
    return refuse(code, { visit: id, field: `${fault.field}:${fault.fault}` });
  }
  const raised = raises(pass, command);
  if (raised) {
    const roles = setting.sender.by === null ? [] : (setting.floor.people[setting.sender.by]?.roles ?? []);
    if (!roles.some((role) => mayRaise.includes(role))) return refuse('not-allowed', { visit: id });
    if (reason === null) return refuse('reason-needed', { visit: id, field: 'reason' });
  }
  const words = reason === null ? [] : [{ key: wordKey.note(id, facts.version + 1), text: reason }];
  return done(id, [onVisit(setting, id, { type: 'LimitsSet', minAfterMs, maxAfterMs, ceilingMs, raised })], words);
};

interface Wanted {
  readonly minAfterMs: number | null;
  readonly maxAfterMs: number | null;
  readonly ceilingMs: number | null;
}

/** What is wrong with the limits that would hold. Lowered below a part's own ceiling they bind that part too (E3). */
function limitsFault(pass: Pass, wanted: Wanted): RulesFault | null {
  const after = limitsSet(pass, wanted);
  const { rules } = after;
  const limits = limitsOf(after);
  if (rules === null || limits === null) return null;
  const { minAfterMs, maxAfterMs, ceilingMs } = limits;
  const faults = checkRules({ ...rules, minAfterMs, maxAfterMs, ceilingMs, underHeat: null });
  return faults.find(({ fault }) => fault !== 'part-ceiling-above-head' && fault !== 'place-twice') ?? null;
}

/** Whether any limit would come later than it stands now; a ceiling where there was none only lowers. */
function raises(pass: Pass, wanted: Wanted): boolean {
  const now = limitsOf(pass);
  if (now === null) return false;
  const later = (to: number | null, from: number | null): boolean => to !== null && from !== null && to > from;
  return (
    later(wanted.minAfterMs, now.minAfterMs) ||
    later(wanted.maxAfterMs, now.maxAfterMs) ||
    later(wanted.ceilingMs, now.ceilingMs)
  );
}

import { alreadyDone, doesNotFit, done, hadSeen, onVisit, refuse, type Setting } from '../../decision.ts';
import { openParts } from '../../exposure/parts.ts';
import type { Stage } from '../stages/stage.ts';
import { neutralizeStep } from '../../exposure/finishing.ts';
import { nextStep, owedOnLeaving, skipped, stepAhead } from '../stages/leaving.ts';
import { currentPass, productOn, type Pass } from '../visit.ts';
import { endedBy } from './seat-visit.ts';
import { basinInUse, type OnOpenVisit } from './visit-lookup.ts';

/** One part of the head is done; the last ends the application (S3). A forgotten one may still be said in process, with its time (X3). */
export const markPartDone: OnOpenVisit<'MarkPartDone'> = (setting, visit, command) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (pass === null || pass.rules === null || !takesParts(setting, facts.stage, pass))
    return doesNotFit(setting, visit);
  const next = openParts(pass)[0] ?? -1;
  const part = command.part ?? next;
  if (part < 0 || part >= pass.rules.parts.length) return refuse('unknown-part', { visit: facts.id, field: 'part' });
  const before = pass.parts.find((one) => one.part === part);
  if (before !== undefined) return alreadyDone(facts.id, { at: before.doneAt, by: before.by }, 'PartMarkedDone');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'PartMarkedDone', part })]);
};

function takesParts(setting: Setting, stage: Stage, pass: Pass): boolean {
  if (stage === 'apply') return true;
  return (
    stage === 'process' && setting.sender.happenedAt !== null && pass.applied !== null && setting.at <= pass.applied.at
  );
}

/** Application is over, whatever parts were marked; process begins at that instant (S3). */
export const finishApplication: OnOpenVisit<'FinishApplication'> = (setting, visit) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (facts.stage === 'process' && pass !== null && pass.applied !== null)
    return alreadyDone(facts.id, pass.applied, 'ApplicationFinished');
  if (facts.stage !== 'apply') return doesNotFit(setting, visit);
  return done(facts.id, [onVisit(setting, facts.id, { type: 'ApplicationFinished' })]);
};

/** At which basin the water runs. */
export const nameBasin: OnOpenVisit<'NameBasin'> = (setting, visit, command) => {
  const pass = currentPass(visit.facts);
  if (!basinInUse(setting.floor, command.basin)) return refuse('unknown-place', { place: command.basin });
  const waters = { rinse: pass?.water ?? null, neutralize: pass?.neutralizerWater ?? null };
  const { stage } = visit.facts;
  const flowing = stage === 'rinse' || stage === 'neutralize' ? waters[stage] : null;
  if (flowing === null) return doesNotFit(setting, visit);
  return done(visit.facts.id, [onVisit(setting, visit.facts.id, { type: 'BasinNamed', basin: command.basin })]);
};

/** Clear water, product off: on to the next step, whatever may stay unmarked after it (S4, S9). */
export const clearAndOff: OnOpenVisit<'ClearAndOff'> = (setting, visit) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (pass === null) return doesNotFit(setting, visit);
  const { id } = facts;
  if (facts.stage === 'rinse') {
    // The water of a burn is not a step of the service: it runs until a person closes it (S6).
    if (facts.burns !== null && facts.burns.closed === null) return doesNotFit(setting, visit);
    const to = nextStep(facts);
    const owed = owedOnLeaving(facts, setting.at);
    return done(id, [onVisit(setting, id, { type: 'WentClear', to: to.stage, toPass: to.pass, owed })]);
  }
  if (facts.stage === 'neutralize' && pass.neutralizerWater !== null) {
    const to = nextStep(facts);
    return done(id, [
      onVisit(setting, id, {
        type: 'WentClear',
        to: to.stage,
        toPass: to.pass,
        owed: owedOnLeaving(facts, setting.at),
      }),
    ]);
  }
  if (productOn(facts)) {
    const rinse = stepAhead(facts, 'rinse');
    const to = rinse === null ? nextStep(facts) : nextStep({ ...facts, stage: 'rinse' });
    return done(id, [
      onVisit(setting, id, { type: 'WentClear', to: to.stage, toPass: to.pass, owed: skipped(facts, to) }),
    ]);
  }
  return pass.clear === null ? doesNotFit(setting, visit) : alreadyDone(id, pass.clear, 'WentClear');
};

/** One neutralizing shampoo is rinsed out, with what its lather or a strip showed (S1, S5). */
export const markShampoo: OnOpenVisit<'MarkShampoo'> = (setting, visit, command) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (facts.stage !== 'neutralize' || pass === null || neutralizeStep(pass)?.kind !== 'shampoos')
    return doesNotFit(setting, visit);
  const last = pass.shampoos[pass.shampoos.length - 1];
  if (last !== undefined && !hadSeen(setting, last.version)) return alreadyDone(facts.id, last, 'ShampooMarked');
  const { indicator, strip } = command;
  return done(facts.id, [onVisit(setting, facts.id, { type: 'ShampooMarked', indicator, strip })]);
};

/** Last touch of a neutralizer: its own window runs from here (S1). */
export const putNeutralizerOn: OnOpenVisit<'PutNeutralizerOn'> = (setting, visit) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  if (facts.stage !== 'neutralize' || pass === null || neutralizeStep(pass)?.kind !== 'neutralizer')
    return doesNotFit(setting, visit);
  if (pass.neutralizerOn !== null) return alreadyDone(facts.id, pass.neutralizerOn, 'NeutralizerPutOn');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'NeutralizerPutOn' })]);
};

export const takeRodsOut: OnOpenVisit<'TakeRodsOut'> = (setting, visit) => {
  const { facts } = visit;
  const pass = currentPass(facts);
  const step = pass === null ? null : neutralizeStep(pass);
  if (pass === null || facts.stage !== 'neutralize' || step?.kind !== 'neutralizer' || !step.rods)
    return doesNotFit(setting, visit);
  if (pass.rodsOut !== null) return alreadyDone(facts.id, pass.rodsOut, 'RodsTakenOut');
  return done(facts.id, [onVisit(setting, facts.id, { type: 'RodsTakenOut' })]);
};

/** "Done, next": a later step is accepted at once; what was skipped is not marked, and a reason owed (S4). */
export const moveOn: OnOpenVisit<'MoveOn'> = (setting, visit, command) => {
  const { facts } = visit;
  const { id } = facts;
  const burning = facts.burns !== null && facts.burns.closed === null;
  if (burning || facts.stage === 'apply' || facts.stage === 'process') {
    return command.to === 'finished' && productOn(facts)
      ? refuse('product-on', { visit: id, place: facts.chair })
      : doesNotFit(setting, visit);
  }
  if (command.to === 'finished') {
    if (productOn(facts)) return refuse('product-on', { visit: id, place: facts.chair });
    return done(id, [endedBy(setting, facts, 'done')]);
  }
  const here = facts.way[facts.way.length - 1];
  if (facts.stage === command.to && here !== undefined && !hadSeen(setting, here.version))
    return alreadyDone(id, here, 'MovedOn');
  const to = facts.stage === 'prep' ? null : stepAhead(facts, command.to);
  if (to === null) return doesNotFit(setting, visit);
  const owed = [...owedOnLeaving(facts, setting.at), ...skipped(facts, to)];
  return done(id, [onVisit(setting, id, { type: 'MovedOn', to: to.stage, toPass: to.pass, owed })]);
};

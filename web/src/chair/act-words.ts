import type { Command } from '../../../core/command.ts';
import type { Headline } from '../../../core/visit/headline.ts';
import type { Deed } from '../../../core/visit/headline.ts';
import type { DoneSince } from '../../../core/refusal.ts';
import { MINUTE } from '../../../core/time.ts';
import type { StrandTest, VisitFacts } from '../../../core/visit/visit.ts';
import type { VisitEventType } from '../../../core/visit/events.ts';
import type { FloorMirror } from '../state/floor-mirror.svelte.ts';
import { placeName } from '../words/place-name.ts';
import type { Words } from '../words/words.ts';
import { limitFields } from './limits-form.ts';
import type { Moment, Said } from './moments.ts';
import type { Act } from './next-act.ts';

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf' | 'serviceName'>;

/** What a button says: what pressing it does. `seated`: somebody sits there already, with a service. */
export function actWords(act: Act, names: Names, w: Words, seated = true): string {
  const { acts } = w.chair;
  switch (act.name) {
    case 'begin':
      return seated ? acts.beginPlain : acts.begin(names.serviceName(act.service) ?? '');
    case 'part-done':
      return acts.partDone(act.part, placeName(act.place, w));
    case 'say-prep':
      return act.complete ? acts.prepComplete : acts.prepNotYet;
    case 'all-on':
      return acts.allOn;
    case 'water-on':
      return act.basin === null ? acts.waterOn : acts.waterOnAt(names.labelOf(act.basin));
    case 'name-basin':
      return names.labelOf(act.basin);
    case 'clear-and-off':
      return acts.clear;
    case 'shampoo':
      return acts.shampoo(act.shampoo, act.of);
    case 'neutralizer-on':
      return acts.neutralizerOn;
    case 'rods-out':
      return acts.rodsOut;
    case 'move-on':
      return acts.moveOn[act.to];
    case 'settle':
      return acts.settle;
    default:
      return act satisfies never;
  }
}

/** The first line of a button, where a second one says the rest. */
export function actTitle(act: Act, names: Names, w: Words, seated = true): string {
  return act.name === 'part-done' ? w.chair.acts.partDone(act.part, '') : actWords(act, names, w, seated);
}

/** A second line, where the first is not all that pressing it says. */
export function actDetail(act: Act, w: Words): string | null {
  if (act.name === 'part-done') return placeName(act.place, w) || null;
  if (act.name !== 'shampoo' || act.proof === 'count') return null;
  const { acts } = w.chair;
  return act.proof === 'strip' ? acts.readStrip : acts[act.proof];
}

/** One line for a small button, which has no second one. */
export function actLine(act: Act, names: Names, w: Words, seated = true): string {
  const said = actWords(act, names, w, seated);
  const detail = act.name === 'shampoo' ? actDetail(act, w) : null;
  return detail === null ? said : w.chair.didWith(said, detail);
}

/** Deeds whose instant is also said as a clock time (E8). */
const clocked: readonly Deed[] = [
  'finish-by',
  'test',
  'rinse-from',
  'off-by',
  'neutralizer-off-from',
  'neutralizer-off-by',
];

/** The deed in words, with the count or the basin that belongs to it. */
export function deedWords(line: Headline, names: Names, w: Words): string {
  const deed = w.deeds[line.deed];
  if (line.count !== null) return w.deedCount(deed, line.count.now, line.count.of);
  return line.basin === null ? deed : w.deedAt(deed, names.labelOf(line.basin));
}

/** The instant that stands beside the deed as a clock time; null where the deed has none. */
export function deedAt(line: Headline): number | null {
  return clocked.includes(line.deed) && line.number !== null && 'to' in line.number ? line.number.to : null;
}

/** One entry of what was done, without its time. */
export function momentWords(moment: Moment, names: Names, w: Words): string {
  const { chair } = w;
  if (moment.part !== null) return chair.didPart(moment.part);
  const did = chair.did[moment.type];
  if (moment.said !== null) return saidWords(moment.said, names, w);
  if (moment.basin !== null) return chair.didAt(did, names.labelOf(moment.basin));
  if (moment.to !== null) return chair.didTo(w.stages[moment.to]);
  if (moment.strip !== null) return chair.didWith(did, chair.strips(String(moment.strip)));
  return moment.indicator === null ? did : chair.didWith(did, chair.acts[moment.indicator]);
}

/** What was said within a stage. */
function saidWords(event: Said, names: Pick<Names, 'nameOf'>, w: Words): string {
  const { chair } = w;
  const who = (person: string | null): string => names.nameOf(person) ?? chair.refused.person;
  switch (event.type) {
    case 'PrepSaid':
      return event.complete ? chair.didPrep.yes : chair.didPrep.no;
    case 'HelperJoined':
      return chair.didHelper.joined(who(event.person));
    case 'HelperLeft':
      return event.person === null ? chair.did.HelperLeft : chair.didHelper.left(who(event.person));
    case 'StrandTested':
      return testWords(event, w);
    case 'HeatSet':
      return event.on ? chair.didHeat.on : chair.didHeat.off;
    case 'LimitsSet': {
      const set = limitFields.flatMap((field) => {
        const ms = event[field];
        return ms === null ? [] : [chair.limits.did[field](w.units.minutes(ms / MINUTE))];
      });
      return chair.didWith(chair.did.LimitsSet, set.join(', '));
    }
    default:
      return event satisfies never;
  }
}

/** One strand test: of its part where that is known, else of its place. */
export function testWords({ place, result, part }: Pick<StrandTest, 'place' | 'result' | 'part'>, w: Words): string {
  const { chair } = w;
  const said = chair.test.said[result];
  return part === null ? chair.didTest(chair.test.places[place], said) : chair.didTestPart(part + 1, said);
}

/** "Joss put water on at 14:32.": what others did since the sender looked (S7). */
export function sinceWords(
  since: readonly DoneSince[],
  names: Names,
  clock: (at: number) => string,
  w: Words,
): string[] {
  return since.slice(-3).map(({ type, at, by }) => {
    const acted = w.chair.acted[type as VisitEventType] ?? type;
    return w.chair.sinceThen(names.nameOf(by) ?? w.chair.refused.person, acted, clock(at));
  });
}

/** The last move of a visit in words, for the take-back bar. */
export function lastMoveWords(visit: VisitFacts, names: Names, w: Words): string {
  const { lastMove } = visit;
  const type = lastMove?.type as VisitEventType;
  const pass = visit.passes[visit.pass];
  // A forgotten part may have been done before others, so that the last of the list need not be it.
  const part = pass?.parts.find((one) => one.doneAt === lastMove?.at)?.part;
  if (type === 'PartMarkedDone' && part !== undefined) return w.chair.didPart(part + 1);
  const water = visit.stage === 'neutralize' ? pass?.neutralizerWater : pass?.water;
  const basin = water?.basin ?? null;
  if (type === 'RinseBegun' && basin !== null) return w.chair.didAt(w.chair.did[type], names.labelOf(basin));
  const test = pass?.tests[pass.tests.length - 1];
  if (type === 'StrandTested' && test !== undefined) return testWords(test, w);
  const heat = pass?.heat ?? null;
  if (type === 'HeatSet' && heat !== null) return w.chair.didHeat[heat.on ? 'on' : 'off'];
  if (type === 'PrepSaid') return w.chair.didPrep[visit.prepared === null ? 'no' : 'yes'];
  const helper = pass?.hands.find((one) => one.fromAt === lastMove?.at);
  if (type === 'HelperJoined' && helper !== undefined)
    return w.chair.didHelper.joined(names.nameOf(helper.by) ?? w.chair.refused.person);
  return w.chair.did[type];
}

/** What a touch that was sent said, to name it again. */
export function commandWords(command: Command, names: Names, w: Words): string {
  const { chair } = w;
  if (command.type === 'BeginRinse')
    return command.basin === null ? chair.acts.waterOn : chair.acts.waterOnAt(names.labelOf(command.basin));
  if (command.type === 'MarkPartDone')
    return command.part === null ? chair.did.PartMarkedDone : chair.didPart(command.part + 1);
  if (command.type === 'JoinAsHelper' && command.person !== null)
    return chair.didHelper.joined(names.nameOf(command.person) ?? chair.refused.person);
  if (command.type === 'SetHeat') return command.on ? chair.heat.on : chair.heat.off;
  if (command.type === 'MoveOn') return chair.acts.moveOn[command.to];
  return chair.sent[command.type as keyof typeof chair.sent] ?? command.type;
}

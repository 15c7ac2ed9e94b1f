import type { PersonId } from '../../../core/ids.ts';
import type { FloorMirror, StandingBell } from '../state/floor-mirror.svelte.ts';
import { goesNow } from '../../../core/bells/taking.ts';
import { bellWho } from '../wall/who-words.ts';
import type { Bell } from '../../../core/bells/bell.ts';
import type { PlaceNumber } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Words } from '../words/words.ts';
import type { BellRun, RunStep } from './bell-runs.ts';

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf'>;

/** Names as a list; whoever is not known is somebody. */
function listed(people: readonly PersonId[], names: Pick<Names, 'nameOf'>, w: Words): string {
  return people.map((id) => names.nameOf(id) ?? w.chair.refused.person).join(', ');
}

/** So many names are read at a glance; more are counted. */
const MOST_NAMES = 3;

/** Who goes, who was not reached and who else is asked, for one bell; null where there is nothing to say (R3, R6, R7). */
export function whoSaid(
  bell: Bell,
  asked: boolean,
  now: EpochMs,
  names: Pick<Names, 'nameOf'>,
  w: Words,
): string | null {
  const { who } = w.chair;
  const { goes, missed, circle } = bellWho(bell, asked, now);
  if (goes !== null) return who.goes(listed([goes], names, w));
  const people = missed.length > MOST_NAMES ? who.people(missed.length) : listed(missed, names, w);
  const said = [...(missed.length === 0 ? [] : [who.missed(people)]), ...(circle === 0 ? [] : [who.carried[circle]])];
  return said.length === 0 ? null : said.join(' · ');
}

/** One step of a bell in words (R9). */
export function stepWords(step: RunStep, names: Pick<Names, 'nameOf'>, w: Words): string {
  const { log, refused } = w.chair;
  switch (step.what) {
    case 'rung':
      return log.rung(w.levels[step.level]);
    case 'shown':
      return log.shown(listed(step.people, names, w));
    case 'missed':
      return log.missed(listed(step.people, names, w));
    case 'carried':
      return log.because(log.carried[step.circle], log.why[step.why]);
    case 'taken':
      return log.taken(names.nameOf(step.by) ?? refused.person);
    case 'passed':
      return log.passed(names.nameOf(step.by) ?? refused.person);
    case 'ended':
      return log.because(log.ended, log.ends[step.why]);
    default:
      return step satisfies never;
  }
}

/** What a bell was for, and how it ended. */
export function runTitle(run: BellRun, w: Words): string {
  return w.chair.log.bell(w.levels[run.level], w.bells[run.kind]);
}

export function runEnd({ steps }: BellRun, w: Words): string {
  const last = steps[steps.length - 1];
  return last?.what === 'ended' ? w.chair.log.ends[last.why] : w.chair.log.stands;
}

/** DANGER at other chairs, in one line: the one that nobody goes to first, then the older. Null where there is none. */
export function dangerElsewhere(
  bells: readonly StandingBell[],
  chair: PlaceNumber,
  now: EpochMs,
  names: Names,
  w: Words,
): string | null {
  const { elsewhere, refused } = w.chair;
  const goes = ({ bell }: StandingBell): PersonId | null => goesNow(bell, now);
  const loud = bells
    .filter((one) => one.bell.level === 'DANGER' && one.chair !== null && one.chair !== chair)
    .sort((a, b) => Number(goes(a) !== null) - Number(goes(b) !== null) || a.bell.levelAt - b.bell.levelAt);
  const [first] = loud;
  if (first === undefined || first.chair === null) return null;
  const said: Readonly<Partial<Record<Bell['kind'], string>>> = elsewhere.said;
  const what = said[first.bell.kind] ?? elsewhere.other;
  const by = goes(first);
  const at = names.labelOf(first.chair);
  const line = by === null ? elsewhere.at(what, at) : elsewhere.goes(what, at, names.nameOf(by) ?? refused.person);
  const more = new Set(loud.map((one) => one.chair)).size - 1;
  return more > 0 ? `${line} · ${elsewhere.more(more)}` : line;
}

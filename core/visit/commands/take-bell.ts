import type { Bell } from '../../bells/bell.ts';
import { audienceOf } from '../../bells/circles.ts';
import { draftAt } from '../../bells/step.ts';
import { goesNow } from '../../bells/taking.ts';
import { rungAt, type Rung, type Subject } from '../../bells/subject.ts';
import { alreadyDone, done, isRefusal, refuse, type Decision, type Setting } from '../../decision.ts';
import type { PersonId } from '../../ids.ts';
import type { VisitCommand } from './command.ts';

type AboutBell = Extract<VisitCommand, { type: 'TakeBell' | 'PassBell' }>;

interface Meant {
  readonly by: PersonId;
  readonly bell: Bell;
  readonly rung: Rung;
  readonly subject: Subject;
}

/** The standing bell that is meant, by somebody who says who they are; else the refusal. */
function meant({ floor, sender }: Setting, { visit, chair, cause }: AboutBell): Meant | Decision {
  if (sender.by === null) return refuse('person-needed', { visit, place: chair });
  const rung = rungAt(floor, visit, chair);
  if (rung === null)
    return visit === null ? refuse('unknown-place', { place: chair }) : refuse('unknown-visit', { visit });
  const bell = rung.ringing.bells.find((one) => one.cause === cause);
  if (bell === undefined) return refuse('bell-gone', { visit, place: chair });
  return { by: sender.by, bell, rung, subject: visit ?? chair ?? 'floor' };
}

/** "I'll go": quiet for a while, never hidden (R3). Somebody else may take it over. */
export function takeBell(setting: Setting, command: Extract<VisitCommand, { type: 'TakeBell' }>): Decision {
  const one = meant(setting, command);
  if (isRefusal(one)) return one;
  const { by, bell, subject } = one;
  const { taken } = bell;
  if (taken !== null && goesNow(bell, setting.now) === by && taken.at >= bell.levelAt) {
    return alreadyDone(command.visit, taken, 'BellTaken');
  }
  const at = typeof subject === 'string' && subject !== 'floor' ? setting.at : setting.now;
  return done(command.visit, [draftAt(subject, { type: 'BellTaken', cause: command.cause }, at)]);
}

/** "I can't": whoever says so is not asked again, and at once the next are (R3). */
export function passBell(setting: Setting, command: Extract<VisitCommand, { type: 'PassBell' }>): Decision {
  const one = meant(setting, command);
  if (isRefusal(one)) return one;
  const { by, bell, rung, subject } = one;
  const { cause, episode, circle } = bell;
  if (bell.passed.includes(by) && bell.taken?.by !== by)
    return alreadyDone(command.visit, { at: setting.now, by }, 'BellPassed');
  const passed = draftAt(subject, { type: 'BellPassed', cause }, setting.now);
  const asked = audienceOf(bell, rung.owner, setting.floor.people, setting.now);
  // Whoever was not asked, or is one of all, sends nobody else on the way; nor does what is only shown (R6).
  if (bell.level === 'NOTICE' || circle === 2 || !(asked.includes(by) || bell.taken?.by === by))
    return done(command.visit, [passed]);
  const wider = { type: 'BellWidened', cause, episode, circle: circle === 0 ? 1 : 2, why: 'passed-on' } as const;
  return done(command.visit, [passed, draftAt(subject, wider, setting.now)]);
}

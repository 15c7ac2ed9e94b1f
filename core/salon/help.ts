import type { CommandOf } from '../command.ts';
import { alreadyDone, done, onStream, refuse, type Decision, type Setting } from '../decision.ts';
import { MINUTE, type Ms } from '../time.ts';

/** Help asked for longer ago than this, on a screen without a link, calls nobody any more. */
const CALLS_FOR: Ms = 2 * MINUTE;

/** "Help here": seniors first, then all; whoever asks is not rung. */
export function askHelp(setting: Setting, { chair }: CommandOf<'AskHelp'>): Decision {
  const place = setting.floor.places[chair];
  if (place === undefined || place.retired || place.kind !== 'chair') return refuse('unknown-place', { place: chair });
  if (place.help !== null) return alreadyDone(null, place.help, 'HelpAsked');
  if (setting.now - setting.at > CALLS_FOR) return refuse('time-too-old', { place: chair, field: 'happenedAt' });
  return done(null, [onStream(setting, 'salon', { type: 'HelpAsked', chair })]);
}

/** Somebody is here, or it is not wanted any more. */
export function endHelp(setting: Setting, { chair, how }: CommandOf<'EndHelp'>): Decision {
  const place = setting.floor.places[chair];
  if (place === undefined) return refuse('unknown-place', { place: chair });
  if (place.help === null) return refuse('bell-gone', { place: chair });
  return done(null, [onStream(setting, 'salon', { type: 'HelpEnded', chair, how })]);
}

import type { CommandOf } from '../command.ts';
import { done, onStream, refuse, type Decision, type Setting } from '../decision.ts';
import { wordKey } from '../words.ts';
import { roomLimits, soundedLevels } from './room.ts';

/** What the room hears and sees (W4): no level can be made silent, and none louder than a more urgent one (R5). */
export function setRoom(setting: Setting, { room }: CommandOf<'SetRoom'>): Decision {
  let softer = 0;
  for (const level of soundedLevels) {
    const [least, most] = roomLimits[level];
    const volume = room.volume[level];
    if (volume < least || volume > most || volume < softer)
      return refuse('out-of-range', { field: `room.volume.${level}` });
    softer = volume;
  }
  return done(null, [onStream(setting, 'salon', { type: 'RoomSet', room })]);
}

/** Push leaves the house: only the owner turns it on, and says whom the push services can ask. */
export function setPush(setting: Setting, { on, contact }: CommandOf<'SetPush'>): Decision {
  if (on && !/^(mailto:[^@\s]+@[^@\s]+\.[^@\s]+|https:\/\/\S+\.\S+)$/.test(contact))
    return refuse('out-of-range', { field: 'contact' });
  return done(
    null,
    [onStream(setting, 'salon', { type: 'PushSet', on })],
    [{ key: wordKey.pushContact(), text: contact === '' ? null : contact }],
  );
}

import { roomLimits, soundedLevels, type Room, type SoundedLevel } from '../../../../core/salon/room.ts';
import { faultAt, type FieldFault } from './fault.ts';
import { numberText, wholeTyped } from './minutes.ts';

/** What the room hears and sees, as it is typed: volumes in whole percent. */
export interface RoomDraft {
  spoken: 'on' | 'off';
  names: 'on' | 'off';
  volume: Record<SoundedLevel, string>;
}

export const volumeField = (level: SoundedLevel): string => `volume.${level}`;

const percent = (part: number): string => numberText(part * 100, 0);

/** Least and most of a level, as its field writes them. */
export function volumeRange(level: SoundedLevel): readonly [string, string] {
  const [least, most] = roomLimits[level];
  return [percent(least), percent(most)];
}

export function roomDraftOf({ spoken, names, volume }: Room): RoomDraft {
  return {
    spoken: spoken ? 'on' : 'off',
    names: names ? 'on' : 'off',
    volume: {
      CAUTION: percent(volume.CAUTION),
      WARNING: percent(volume.WARNING),
      DANGER: percent(volume.DANGER),
    },
  };
}

/** As core judges it: each level within its limits, none softer than a less urgent one (R5). */
export function readRoom(draft: RoomDraft): { readonly room: Room | null; readonly faults: readonly FieldFault[] } {
  const faults: FieldFault[] = [];
  const volume: Record<SoundedLevel, number> = { CAUTION: 0, WARNING: 0, DANGER: 0 };
  let softer = 0;
  for (const level of soundedLevels) {
    const typed = wholeTyped(draft.volume[level]);
    const [least, most] = volumeRange(level);
    const at = volumeField(level);
    if (typed.kind === 'empty') faults.push(faultAt(at, 'missing'));
    else if (typed.kind === 'not') faults.push(faultAt(at, 'not-whole'));
    else if (typed.value < Number(least) || typed.value > Number(most))
      faults.push(faultAt(at, 'out-of-range', least, most));
    else if (typed.value < softer) faults.push(faultAt(at, 'softer', String(softer)));
    else {
      softer = typed.value;
      volume[level] = typed.value / 100;
    }
  }
  const room = { spoken: draft.spoken === 'on', names: draft.names === 'on', volume };
  return { room: faults.length === 0 ? room : null, faults };
}

/** Whether a level would sound otherwise once this is saved. */
export function isChanged(draft: RoomDraft, level: SoundedLevel, saved: Room): boolean {
  return draft.volume[level].trim() !== percent(saved.volume[level]);
}

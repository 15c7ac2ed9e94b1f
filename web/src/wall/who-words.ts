import type { Bell, Circle } from '../../../core/bells/bell.ts';
import { goesNow } from '../../../core/bells/taking.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { FloorMirror } from '../state/floor-mirror.svelte.ts';
import type { WallWords } from '../words/wall-words.ts';

/** Who stands behind a bell, as it is now. */
export interface BellWho {
  /** Whoever said that they go. */
  readonly goes: PersonId | null;
  /** Not shown it in time, and not since (R7). */
  readonly missed: readonly PersonId[];
  /** How far it was carried on from those whose deed it is (R6); 0 where it is theirs, everyone's at once, or nobody can be asked. */
  readonly circle: Circle;
}

/** Taken it is somebody's; else it counts who was missed and who is asked besides. `asked`: somebody is there to be asked. */
export function bellWho(bell: Bell, asked: boolean, now: EpochMs): BellWho {
  const goes = goesNow(bell, now);
  if (goes !== null) return { goes, missed: [], circle: 0 };
  const { level, kind, circle, unreached } = bell;
  const everyones = level === 'DANGER' || kind === 'burns' || !asked;
  return { goes: null, missed: level === 'NOTICE' ? [] : unreached, circle: everyones ? 0 : circle };
}

/** So many names stand in a lane; more are counted. */
const MOST_NAMES = 2;

interface Lane {
  readonly bell: Bell | null;
  readonly stylist: PersonId | null;
  /** Somebody is there to be asked (R6). */
  readonly asked: boolean;
  /** Help is wanted at this chair, and another bell is louder. */
  readonly helpToo: boolean;
  /** Whether the room may read names (W4). */
  readonly named: boolean;
}

/**
 * What stands at the right of a lane, longest first: who goes; else who was not shown the bell and that others are asked; else whose head
 * it is. Without names the same is said of "somebody".
 */
export function whoWordings(
  lane: Lane,
  now: EpochMs,
  names: Pick<FloorMirror, 'nameOf'>,
  { wall }: WallWords,
): readonly [string, ...string[]] {
  const { bell, stylist, asked, helpToo, named } = lane;
  const name = (id: PersonId | null): string | null => (named ? names.nameOf(id) : null);
  const help = helpToo ? [wall.asked.help.short] : [];
  const own = name(stylist);
  const whose = own === null ? [] : [own];
  if (bell === null) return [join([...help, ...whose])];
  const { goes, missed, circle } = bellWho(bell, asked, now);
  if (goes !== null) {
    const taker = name(goes);
    return [join([taker === null ? wall.taken : wall.goes(taker), ...help])];
  }
  const people = missed.map(name).filter((one) => one !== null);
  const all = people.length === missed.length;
  const unshown = missed.length === 0 ? [] : [all ? wall.notShownTo(listed(people, wall)) : wall.notShown];
  const carried = circle === 0 ? [] : [wall.carried[circle]];
  if (unshown.length + carried.length === 0) {
    // Whose head it is must not read as who goes.
    const nobody = asked && bell.level !== 'NOTICE' ? [wall.nobodyGoes] : [];
    return nobody.length === 0
      ? [join([...help, ...whose])]
      : [join([...nobody, ...help, ...whose]), join([...nobody, ...help])];
  }
  const brief = missed.length === 0 ? [] : [wall.notShown];
  // The last one leaves out what the lane's own words say or the top line names.
  const least = carried.length > 0 ? carried : brief;
  return [join([...unshown, ...carried, ...help]), join([...brief, ...carried, ...help]), join([...least, ...help])];
}

function join(parts: readonly string[]): string {
  return parts.join(' · ');
}

/** A few names, or how many there are. */
export function listed(people: readonly string[], { people: counted }: Pick<WallWords['wall'], 'people'>): string {
  return people.length > MOST_NAMES ? counted(people.length) : people.join(', ');
}

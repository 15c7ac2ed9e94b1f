import type { Reach } from '../../core/bells/carrying.ts';
import { isHere, onShift } from '../../core/bells/circles.ts';
import type { Floor } from '../../core/floor.ts';
import type { DeviceId, PersonId } from '../../core/ids.ts';
import type { EpochMs, Ms } from '../../core/time.ts';
import { PRESENCE_MS } from '../../shared/protocol.ts';
import type { Here } from '../../shared/socket-events.ts';
import type { PersonReach, ReachKind, ReachTold } from '../../shared/wire.ts';

/** What a screen said of itself longer ago than this is not believed: it would have said it again. */
const BELIEVED_FOR: Ms = 3 * PRESENCE_MS;

interface Deps {
  /** The process's monotonic clock: how fresh a word is has nothing to do with the floor's time. */
  readonly monotonicNow: () => Ms;
  /** Whether a push to one of this person's devices was confirmed by it. */
  readonly byPush: (person: PersonId) => boolean;
}

interface Said {
  readonly here: Here;
  readonly heardAt: Ms;
}

/** Who can be reached now, by what the devices confirmed of themselves and never by hope (R7). */
export class Presence {
  readonly #deps: Deps;
  /** By the connection: a device that links anew is another word. */
  readonly #said = new Map<string, Said>();
  /** Since when each person has been reached as they are now. */
  readonly #since = new Map<PersonId, { readonly how: ReachKind; readonly sinceAt: EpochMs }>();
  #byPush: (person: PersonId) => boolean;
  #nobodySince: EpochMs | null = null;
  #told: ReachTold = { people: [], walls: { sounding: 0, silent: 0 } };
  /** What the screens know. */
  #announced = '';

  constructor(deps: Deps) {
    this.#deps = deps;
    this.#byPush = deps.byPush;
  }

  /** Who sends pushes is known only once there is an engine to follow. */
  hearOfPushes(byPush: (person: PersonId) => boolean): void {
    this.#byPush = byPush;
  }

  hear(connection: string, here: Here): void {
    this.#said.set(connection, { here, heardAt: this.#deps.monotonicNow() });
  }

  gone(connection: string): void {
    this.#said.delete(connection);
  }

  /** What was told last. */
  get told(): ReachTold {
    return this.#told;
  }

  /** Looks at all anew; whether anything is to be told to the screens that was not told before. */
  look(floor: Floor, now: EpochMs): boolean {
    this.#look(floor, now);
    const before = this.#announced;
    this.#announced = JSON.stringify(this.#told);
    return this.#announced !== before;
  }

  #look(floor: Floor, now: EpochMs): void {
    const here = this.#fresh();
    const pockets = here.filter(({ screen, person }) => screen === 'pocket' && person !== null);
    const walls = here.filter(({ screen }) => screen === 'wall');
    const listed = new Set(pockets.flatMap(({ person }) => (person === null ? [] : [person])));
    for (const person of Object.values(floor.people)) if (onShift(person, now)) listed.add(person.id);
    const sounding = walls.filter(({ sound }) => sound === 'on').length;
    this.#told = {
      people: [...listed]
        .filter((id) => floor.people[id]?.retired === false)
        .sort()
        .map((person) => this.#reachOf(person, pockets, now)),
      walls: { sounding, silent: walls.length - sounding },
    };
    this.#countNobody(floor, now);
  }

  /** What bells follow from. */
  reach(floor: Floor, now: EpochMs): Reach {
    // A turn of the engine looks too; what it sees first the screens are told all the same.
    this.#look(floor, now);
    const pushOnly = this.#told.people.filter(({ how }) => how === 'push').map(({ person }) => person);
    return { nobodySince: this.#nobodySince, pushOnly };
  }

  /** Whether this very device rings by its page now, so that a push to it would be one sound too many. */
  ringsByPage(person: PersonId, device: DeviceId): boolean {
    return this.#fresh().some((here) => here.person === person && here.device === device && howOf(here) === 'rings');
  }

  #fresh(): readonly Here[] {
    const since = this.#deps.monotonicNow() - BELIEVED_FOR;
    return [...this.#said.values()].filter(({ heardAt }) => heardAt >= since).map(({ here }) => here);
  }

  #reachOf(person: PersonId, pockets: readonly Here[], now: EpochMs): PersonReach {
    const own = pockets.filter((one) => one.person === person);
    const kinds = own.map(howOf);
    const how: ReachKind = kinds.includes('rings')
      ? 'rings'
      : this.#byPush(person)
        ? 'push'
        : kinds.includes('shown')
          ? 'shown'
          : 'no';
    const before = this.#since.get(person);
    const since = before?.how === how ? before : { how, sinceAt: now };
    this.#since.set(person, since);
    const mutes = own.flatMap(({ mutedUntil }) => (mutedUntil === null || mutedUntil <= now ? [] : [mutedUntil]));
    return { person, ...since, mutedUntil: mutes.length === 0 ? null : Math.max(...mutes) };
  }

  /** Where nobody is on shift, nobody goes by a phone: a wall that sounds is then the bell. */
  #countNobody({ people }: Floor, now: EpochMs): void {
    const staff = this.#told.people.filter(({ person }) => people[person] && isHere(people[person], now));
    const somebody =
      staff.length > 0 ? staff.some(({ how }) => how === 'rings' || how === 'push') : this.#told.walls.sounding > 0;
    if (somebody) this.#nobodySince = null;
    else this.#nobodySince ??= now;
  }
}

/** What one device can do for whoever holds it. */
function howOf({ sound, heard, seen }: Here): ReachKind {
  if (!seen) return 'no';
  return sound === 'on' && heard ? 'rings' : 'shown';
}

import { io, type Socket } from 'socket.io-client';
import { asks } from '../../core/bells/hearing.ts';
import { standingOn, type Standing } from '../../core/bells/subject.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import type { PersonId } from '../../core/ids.ts';
import { SECOND, type Ms } from '../../core/time.ts';
import { PRESENCE_MS } from '../../shared/protocol.ts';
import type { ClientToServer, ServerToClient } from '../../shared/socket-events.ts';
import type { FloorEntity, Snapshot } from '../../shared/wire.ts';
import type { Players } from './players.ts';
import { beginningShifts, people } from './salon.ts';

const ANSWER_WITHIN: Ms = 2 * SECOND;

/** Everybody's phone: it says that it is there and can be heard, and shows its holder the bells that ask them (R7). */
export class Phones {
  readonly #phones: readonly Phone[];
  readonly #beat: NodeJS.Timeout;

  constructor(address: string, people: readonly PersonId[]) {
    this.#phones = people.map((person) => new Phone(address, person));
    this.#beat = setInterval(() => this.#phones.forEach((phone) => phone.sayHere()), PRESENCE_MS);
  }

  /** Resolves once all are linked. */
  async linked(): Promise<void> {
    await Promise.all(this.#phones.map((phone) => phone.linked()));
  }

  /** What they see who look at the floor now; resolves once the server has heard that they do. */
  async show({ now, entities }: Snapshot): Promise<void> {
    const floor = floorOf(Object.values(entities));
    const standing = standingOn(floor).filter(({ bell }) => bell.level !== 'NOTICE');
    await Promise.all(
      this.#phones.map((phone) =>
        phone.show(standing.filter(({ bell, rung }) => asks(bell, rung, phone.person, floor.people, now))),
      ),
    );
  }

  putAway(): void {
    clearInterval(this.#beat);
    for (const phone of this.#phones) phone.putAway();
  }
}

/** Everybody comes on shift, with a phone in a pocket. */
export async function comingOnShift(players: Players, address: string): Promise<Phones> {
  await players.setUp([beginningShifts()]);
  const phones = new Phones(
    address,
    people.map(({ id }) => id),
  );
  await phones.linked();
  return phones;
}

class Phone {
  readonly person: PersonId;
  readonly #line: Socket<ServerToClient, ClientToServer>;

  constructor(address: string, person: PersonId) {
    this.person = person;
    this.#line = io(address, { transports: ['websocket'] });
    this.#line.on('connect', () => this.sayHere());
  }

  get #device(): string {
    return `phone-of-${this.person}`;
  }

  sayHere(): void {
    const here = { device: this.#device, screen: 'pocket', person: this.person, sound: 'on' } as const;
    if (this.#line.connected) {
      this.#line.emit('here', { ...here, heard: true, seen: true, mutedUntil: null }, () => undefined);
    }
  }

  async linked(): Promise<void> {
    if (!this.#line.connected) await new Promise<void>((resolve) => this.#line.once('connect', () => resolve()));
  }

  async show(standing: readonly Standing[]): Promise<void> {
    const { person } = this;
    const fresh = standing.filter(({ bell }) => !bell.shown.some((one) => one.person === person));
    if (fresh.length === 0 || !this.#line.connected) return;
    const bells = fresh.map(({ bell: { cause, episode, level }, visit, chair }) => {
      return { visit, chair, cause, episode, level };
    });
    try {
      await this.#line.timeout(ANSWER_WITHIN).emitWithAck('shown', { device: this.#device, person, bells });
    } catch {
      // Not heard: the bell is still standing at the next look.
    }
  }

  putAway(): void {
    this.#line.disconnect();
  }
}

/** As much of the floor as bells need, from what a screen is told. */
function floorOf(entities: readonly FloorEntity[]): Floor {
  const of = <K extends FloorEntity['kind']>(kind: K) =>
    entities.filter((one): one is Extract<FloorEntity, { kind: K }> => one.kind === kind);
  const visits = of('visit').map(({ facts }) => [facts.id, { facts, history: [] }] as const);
  return {
    ...emptyFloor,
    visits: Object.fromEntries(visits),
    places: Object.fromEntries(of('place').map(({ facts }) => [facts.number, facts])),
    people: Object.fromEntries(of('person').map(({ facts }) => [facts.id, facts])),
    floorBells: of('floor-bells')[0]?.facts ?? emptyFloor.floorBells,
  };
}

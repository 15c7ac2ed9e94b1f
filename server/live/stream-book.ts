import type { Floor } from '../../core/floor.ts';
import { wordKey } from '../../core/words.ts';
import { PROTOCOL, type FORMER_PROTOCOL, type StreamName } from '../../shared/protocol.ts';
import type { EntityKey, FloorEntity, Heartbeat, Push } from '../../shared/wire.ts';
import type { Change } from '../engine/engine.ts';
import { toldFormerly } from './former-protocol/translation.ts';

type Entities = ReadonlyMap<EntityKey, FloorEntity>;
export type SpokenProtocol = typeof PROTOCOL | typeof FORMER_PROTOCOL;

/**
 * One stream as its screens have it: what changed since the last revision, and the whole of it, encoded once per
 * revision and protocol, when somebody first asks.
 */
export class StreamBook {
  readonly stream: StreamName;
  #entities: Entities;
  #revision: number;
  readonly #encoded = new Map<SpokenProtocol, string>();

  constructor(stream: StreamName, floor: Floor, revision: number) {
    this.stream = stream;
    this.#entities = entitiesOf(stream, floor, new Map());
    this.#revision = revision;
  }

  /** Takes a change in and says what to tell. */
  turn({ previous, revision, floor }: Change): Push {
    const before = this.#entities;
    this.#entities = entitiesOf(this.stream, floor, before);
    this.#revision = revision;
    this.#encoded.clear();
    const entities: Record<string, FloorEntity | null> = {};
    for (const [key, entity] of this.#entities) if (before.get(key) !== entity) entities[key] = entity;
    for (const key of before.keys()) if (!this.#entities.has(key)) entities[key] = null;
    return { stream: this.stream, previous, revision, entities };
  }

  /** JSON text of a `Snapshot` in the words of a protocol, with the time as it is now. */
  snapshot({ run, timescale, now, civilOffsetMs }: Heartbeat, protocol: SpokenProtocol = PROTOCOL): string {
    const { stream } = this;
    const head = { stream, run, protocol, revision: this.#revision, timescale, now, civilOffsetMs };
    return `${JSON.stringify(head).slice(0, -1)},"entities":${this.#entitiesIn(protocol)}}`;
  }

  #entitiesIn(protocol: SpokenProtocol): string {
    let text = this.#encoded.get(protocol);
    if (text === undefined) {
      const told = protocol === PROTOCOL ? [...this.#entities] : formerly(this.#entities);
      text = JSON.stringify(Object.fromEntries(told));
      this.#encoded.set(protocol, text);
    }
    return text;
  }
}

function formerly(entities: Entities) {
  return [...entities].map(([key, entity]) => [key, toldFormerly(entity)] as const).filter(([, told]) => told !== null);
}

/** Everything a stream tells; what did not change is the very same object as in `before`. */
function entitiesOf(stream: StreamName, floor: Floor, before: Entities): Entities {
  const all = stream === 'salon';
  const { words } = floor;
  const entities = new Map<EntityKey, FloorEntity>();
  const put = (key: EntityKey, entity: FloorEntity): void => {
    const last = before.get(key);
    entities.set(key, last !== undefined && unchanged(last, entity) ? last : entity);
  };
  put('salon', { kind: 'salon', facts: floor.salon, name: words[wordKey.salonName()] ?? null });
  for (const facts of Object.values(floor.places)) {
    if (!all && facts.retired) continue;
    put(`place/${facts.number}`, {
      kind: 'place',
      facts,
      label: words[wordKey.place(facts.number)] ?? `${facts.number}`,
    });
  }
  for (const facts of Object.values(floor.people)) {
    // Whoever has left is still named by what they did.
    put(`person/${facts.id}`, { kind: 'person', facts, name: words[wordKey.person(facts.id)] ?? '' });
  }
  for (const facts of Object.values(floor.services)) {
    if (!all && facts.retired) continue;
    put(`service/${facts.id}`, { kind: 'service', facts, name: words[wordKey.service(facts.id)] ?? '' });
  }
  for (const facts of Object.values(floor.directions)) {
    if (!all && facts.retired) continue;
    const source = all ? (words[wordKey.source(facts.id, facts.version)] ?? null) : null;
    const name = words[wordKey.directions(facts.id)] ?? '';
    put(`directions/${facts.id}`, { kind: 'directions', facts, name, source });
  }
  put('floor-bells', { kind: 'floor-bells', facts: floor.floorBells });
  put('gap', { kind: 'gap', facts: floor.gap });
  if (all) return entities;
  for (const { facts } of Object.values(floor.visits)) {
    const label = stream === 'floor' ? (words[wordKey.visit(facts.id)] ?? null) : null;
    put(`visit/${facts.id}`, { kind: 'visit', facts, label });
  }
  return entities;
}

/** Facts are replaced, never changed: the same object means the same facts. */
function unchanged(a: FloorEntity, b: FloorEntity): boolean {
  return Object.keys(b).every((key) => a[key as keyof FloorEntity] === b[key as keyof FloorEntity]);
}

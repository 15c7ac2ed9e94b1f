import { withBellsDue } from '../../../core/bells/alone.ts';
import type { Command, CommandType } from '../../../core/command.ts';
import { decide } from '../../../core/decide.ts';
import { visitOf, type Recorded } from '../../../core/events.ts';
import { evolve } from '../../../core/evolve.ts';
import { emptyFloor, type Floor } from '../../../core/floor.ts';
import type { CommandId, DeviceId, PersonId, VisitId } from '../../../core/ids.ts';
import { emptySalon } from '../../../core/salon/salon.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { FloorEntity } from '../../../shared/wire.ts';

export type Entities = Readonly<Record<string, FloorEntity>>;

/** A touch of this device that the server has not settled yet. */
export interface OwnTouch {
  readonly id: CommandId;
  readonly command: Command;
  readonly by: PersonId | null;
  readonly device: DeviceId | null;
  readonly happenedAt: EpochMs | null;
  readonly touchedAt: EpochMs;
}

export interface Ahead {
  readonly entities: Entities;
  /** Heads that stand here as this device has them, not as the server said. */
  readonly unsettled: ReadonlySet<VisitId>;
}

/** Wanting the whole history of a visit, which a screen does not have: what they do is seen once the server has done it. */
const notAhead: readonly CommandType[] = ['CorrectTime', 'TakeBack', 'GiveReason', 'EraseWords', 'ConfirmTime'];

/**
 * The floor as it will be once the touches of this device have reached the server, by the server's own rules: so that a chair or a
 * phone without a link offers the next step, and bells that its own deed has ended ring no more. A touch that the rules would
 * refuse changes nothing here; why it was refused is said when the server has said so.
 */
export function ahead(heard: Entities, touches: readonly OwnTouch[], now: EpochMs): Ahead {
  const wanted = withoutTakenBack(touches).filter(({ command }) => 'visit' in command || command.type === 'SeatVisit');
  if (wanted.length === 0) return { entities: heard, unsettled: new Set() };
  const before = floorOf(heard);
  const floor = wanted.reduce(after, before);
  const entities: Record<string, FloorEntity> = { ...heard };
  const unsettled = new Set<VisitId>();
  for (const [id, visit] of Object.entries(floor.visits)) {
    if (visit === before.visits[id]) continue;
    unsettled.add(id);
    const told = heard[`visit/${id}`];
    const label = told?.kind === 'visit' ? told.label : (floor.words[`visit/${id}/label`] ?? null);
    entities[`visit/${id}`] = {
      kind: 'visit',
      facts: withBellsDue(visit.facts, floor.salon.figures, now, floor.people),
      label,
    };
  }
  return { entities, unsettled };
}

function after(floor: Floor, touch: OwnTouch): Floor {
  if (notAhead.includes(touch.command.type)) return floor;
  const at = touch.happenedAt ?? touch.touchedAt;
  // What this device did itself it has seen.
  const sender = { id: touch.id, by: touch.by, device: touch.device, seen: Number.MAX_SAFE_INTEGER, happenedAt: at };
  try {
    const { events, words, answer } = decide(floor, touch.command, sender, touch.touchedAt);
    if (answer.outcome === 'refused') return floor;
    const folded = events.reduce((next, draft) => {
      const visit = visitOf(draft.stream);
      const version = (visit === null ? 0 : (next.visits[visit]?.facts.version ?? 0)) + 1;
      const place = { seq: 0, version, recordedAt: touch.touchedAt, by: touch.by, device: touch.device };
      const recorded: Recorded = { ...draft, ...place, command: touch.id };
      return evolve(next, recorded);
    }, floor);
    const said = words.flatMap(({ key, text }) => (text === null ? [] : [[key, text] as const]));
    return said.length === 0 ? folded : { ...folded, words: { ...folded.words, ...Object.fromEntries(said) } };
  } catch {
    // It wanted more of the visit than a screen is told: then the screen waits for the server.
    return floor;
  }
}

/** A step taken back before it went anywhere never happened; the server will be told both. */
function withoutTakenBack(touches: readonly OwnTouch[]): readonly OwnTouch[] {
  const kept: OwnTouch[] = [];
  for (const touch of touches) {
    if (touch.command.type !== 'TakeBack') {
      kept.push(touch);
      continue;
    }
    const { visit } = touch.command;
    const about = kept.map(({ id, command }) => id === visit || ('visit' in command && command.visit === visit));
    const last = about.lastIndexOf(true);
    if (last >= 0) kept.splice(last, 1);
  }
  return kept;
}

/** The floor that entities tell; visits without their history. */
function floorOf(entities: Entities): Floor {
  const floor = {
    places: {} as Record<number, Floor['places'][number]>,
    people: {} as Record<string, Floor['people'][string]>,
    directions: {} as Record<string, Floor['directions'][string]>,
    services: {} as Record<string, Floor['services'][string]>,
    visits: {} as Record<string, Floor['visits'][string]>,
  };
  let salon = emptySalon;
  for (const entity of Object.values(entities)) {
    switch (entity.kind) {
      case 'salon':
        salon = entity.facts;
        break;
      case 'place':
        floor.places[entity.facts.number] = entity.facts;
        break;
      case 'person':
        floor.people[entity.facts.id] = entity.facts;
        break;
      case 'directions':
        floor.directions[entity.facts.id] = entity.facts;
        break;
      case 'service':
        floor.services[entity.facts.id] = entity.facts;
        break;
      case 'visit':
        floor.visits[entity.facts.id] = { facts: entity.facts, history: [] };
        break;
      case 'floor-bells':
      case 'gap':
        break;
      default:
        entity satisfies never;
    }
  }
  return { ...emptyFloor, ...floor, salon };
}

import type { Floor } from '../../core/floor.ts';
import { wordKey } from '../../core/words.ts';
import type { FloorEntity } from '../../shared/wire.ts';

/** A floor as a screen is told of it. */
export function entitiesOf(floor: Floor): Record<string, FloorEntity> {
  const word = (key: string): string => floor.words[key] ?? '';
  const entities: Record<string, FloorEntity> = {
    salon: { kind: 'salon', facts: floor.salon, name: word(wordKey.salonName()) },
    'floor-bells': { kind: 'floor-bells', facts: floor.floorBells },
    gap: { kind: 'gap', facts: floor.gap },
  };
  for (const facts of Object.values(floor.places)) {
    entities[`place/${facts.number}`] = { kind: 'place', facts, label: word(wordKey.place(facts.number)) };
  }
  for (const facts of Object.values(floor.people)) {
    entities[`person/${facts.id}`] = { kind: 'person', facts, name: word(wordKey.person(facts.id)) };
  }
  for (const facts of Object.values(floor.services)) {
    entities[`service/${facts.id}`] = { kind: 'service', facts, name: word(wordKey.service(facts.id)) };
  }
  for (const facts of Object.values(floor.directions)) {
    entities[`directions/${facts.id}`] = {
      kind: 'directions',
      facts,
      name: word(wordKey.directions(facts.id)),
      source: null,
    };
  }
  for (const { facts } of Object.values(floor.visits)) {
    entities[`visit/${facts.id}`] = { kind: 'visit', facts, label: word(wordKey.visit(facts.id)) || null };
  }
  return entities;
}

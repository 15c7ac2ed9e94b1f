import { describe, expect, it } from 'vitest';
import type { Command } from '../../../core/command.ts';
import { defaultFigures, figureLimits, type Figures } from '../../../core/salon/salon.ts';
import { MINUTE } from '../../../core/time.ts';
import type { Stage } from '../../../core/visit/stages/stage.ts';
import { perm, relaxer } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';
import { saw } from '../../support/pass-kit.ts';

const code = (life: FloorLife, command: Command): string => {
  const answer = life.send(command);
  return answer.outcome === 'done' ? 'done' : answer.code;
};

describe('setting up', () => {
  it('[T2] keeps zone, language and hours as facts, the name as a word, and since when', () => {
    const life = FloorLife.salon();
    life.at(5).do({
      type: 'SetUpSalon',
      name: 'Other name',
      zone: 'America/New_York',
      language: 'fr',
      hourCycle: 'h12',
      demonstration: true,
    });
    expect(life.floor.salon).toMatchObject({
      setUpAt: NOON,
      zone: 'America/New_York',
      language: 'fr',
      hourCycle: 'h12',
      demonstration: true,
    });
    expect(life.floor.words['salon/name']).toBe('Other name');
  });

  it('[W1] the size of the wall', () => {
    const life = FloorLife.salon();
    life.do({ type: 'SetWall', wall: { diagonalIn: 55, distanceM: 4 } });
    expect(life.floor.salon.wall).toEqual({ diagonalIn: 55, distanceM: 4 });
  });
});

describe('figures', () => {
  it.each(Object.keys(figureLimits) as (keyof Figures)[])('[R2] %s within its limits, both included', (name) => {
    const life = FloorLife.salon();
    const [least, most] = figureLimits[name];
    const set = (value: number) => life.send({ type: 'SetFigures', figures: { ...defaultFigures, [name]: value } });
    expect(set(least)).toMatchObject({ outcome: 'done' });
    expect(life.floor.salon.figures[name]).toBe(least);
    expect(set(most)).toMatchObject({ outcome: 'done' });
    expect(set(least - 1)).toMatchObject({ code: 'out-of-range', field: `figures.${name}` });
    expect(set(most + 1)).toMatchObject({ code: 'out-of-range', field: `figures.${name}` });
    expect(life.floor.salon.figures[name]).toBe(most);
  });
});

describe('chairs and basins', () => {
  const add = (number: number, label: string, kind: 'chair' | 'basin' = 'chair') =>
    ({ type: 'AddPlace', kind, number, label }) as const;

  it('[S9] have numbers and labels that are unique over both', () => {
    const life = FloorLife.salon();
    expect(life.send(add(91, 'new'))).toMatchObject({ code: 'number-taken', place: 91, field: 'number' });
    expect(life.send(add(5, 'a'))).toMatchObject({ code: 'label-taken', place: 5, field: 'label' });
    expect(code(life, add(5, 'C'))).toBe('done');
    expect(life.floor.places[5]).toEqual({
      number: 5,
      kind: 'chair',
      retired: false,
      help: null,
      bells: [],
      episodes: [],
    });
  });

  it('[S9] a retired number comes back as what it was, its label being free', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 4 });
    expect(life.floor.places[4]?.retired).toBe(true);
    expect(code(life, { type: 'RelabelPlace', number: 3, label: '4' })).toBe('done');
    expect(code(life, add(4, 'D', 'basin'))).toBe('number-taken');
    expect(code(life, add(4, 'D'))).toBe('done');
    expect(life.floor.places[4]?.retired).toBe(false);
  });

  it('[S9] a new label is nobody else’s; one’s own may change its case', () => {
    const life = FloorLife.salon();
    expect(code(life, { type: 'RelabelPlace', number: 91, label: 'a' })).toBe('done');
    expect(code(life, { type: 'RelabelPlace', number: 91, label: 'b' })).toBe('label-taken');
    expect(life.floor.words['place/91/label']).toBe('a');
    expect(code(life, { type: 'RelabelPlace', number: 77, label: 'z' })).toBe('unknown-place');
    life.do({ type: 'RetirePlace', number: 4 });
    expect(code(life, { type: 'RelabelPlace', number: 4, label: 'z' })).toBe('unknown-place');
  });

  it('[S9] in use they are not retired: a chair with a visit, a basin with a head', () => {
    const life = FloorLife.salon(perm());
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    const retire = (number: number) => code(life, { type: 'RetirePlace', number });
    expect([retire(2), retire(77)]).toEqual(['in-use', 'unknown-place']);
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(retire(91)).toBe('in-use');
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    life.at(33).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 92 });
    expect(retire(92)).toBe('in-use');
    life.do({ type: 'MoveOn', visit: v, to: 'finished' }, saw(life, v));
    expect([retire(2), retire(91), retire(92), retire(92)]).toEqual(['done', 'done', 'done', 'unknown-place']);
  });
});

describe('people', () => {
  it('[S7] have names of their own and keep their id', () => {
    const life = FloorLife.salon();
    expect(life.send({ type: 'AddPerson', name: 'ama', roles: [] })).toMatchObject({
      code: 'name-taken',
      field: 'name',
    });
    life.do({ type: 'AddPerson', name: 'Lin', roles: ['senior'] }, { id: 'person-lin' });
    expect(life.floor.people['person-lin']).toEqual({
      id: 'person-lin',
      roles: ['senior'],
      retired: false,
      shift: null,
      away: null,
    });
    const change = (person: string, name: string) =>
      code(life, { type: 'ChangePerson', person, name, roles: ['manager'] });
    expect([change('person-lin', 'AMA'), change('person-x', 'X'), change('person-lin', 'LIN')]).toEqual([
      'name-taken',
      'unknown-person',
      'done',
    ]);
    expect(life.floor.people['person-lin']?.roles).toEqual(['manager']);
    expect(life.floor.words['person/person-lin/name']).toBe('LIN');
  });

  it('[S7] retire once; their name is free then, and they may come back', () => {
    const life = FloorLife.salon();
    const retire = (person: string) => code(life, { type: 'RetirePerson', person });
    expect([retire('person-ama'), retire('person-ama'), retire('person-x')]).toEqual([
      'done',
      'unknown-person',
      'unknown-person',
    ]);
    expect(code(life, { type: 'AddPerson', name: 'Ama', roles: [] })).toBe('done');
    life.do({ type: 'ChangePerson', person: 'person-ama', name: 'Ama the elder', roles: ['stylist'] });
    expect(life.floor.people['person-ama']?.retired).toBe(false);
  });
});

describe('directions and services', () => {
  const write = (directions: string | null, rules = relaxer()) =>
    ({ type: 'WriteDirections', directions, name: 'Strong', source: 'leaflet, page 2', rules }) as const;
  const service = (passes: readonly string[], named: string | null = null) =>
    ({ type: 'WriteService', service: named, name: 'Both', passes, limits: [] }) as const;

  it('[E3] are versioned, with who copied them and when, and from where', () => {
    const life = FloorLife.salon();
    life.at(7).send(write('directions-1', relaxer({ minAfterMs: 600_001 })), { by: 'person-ama' });
    expect(life.floor.directions['directions-1']).toMatchObject({
      version: 2,
      copiedBy: 'person-ama',
      copiedAt: NOON + 7 * 60_000,
      rules: { minAfterMs: 600_001 },
    });
    expect(life.floor.words).toMatchObject({
      'directions/directions-1/name': 'Strong',
      'directions/directions-1/source/1': 'leaflet',
      'directions/directions-1/source/2': 'leaflet, page 2',
    });
    expect(code(life, write('directions-x'))).toBe('unknown-directions');
  });

  it('[E3] that contradict themselves are refused with the field and what is wrong', () => {
    const life = FloorLife.salon();
    expect(life.send(write(null, relaxer({ ceilingMs: null })))).toMatchObject({
      code: 'directions-contradict',
      field: 'rules.ceilingMs:ceiling-missing',
    });
  });

  it('[S10] a service has one to four passes of directions in use', () => {
    const life = FloorLife.salon();
    const many = (n: number) => Array.from({ length: n }, () => 'directions-1');
    const codes = [0, 1, 4, 5].map((n) => code(life, service(many(n))));
    expect(codes).toEqual(['out-of-range', 'done', 'done', 'out-of-range']);
    expect(code(life, service(['directions-x']))).toBe('unknown-directions');
    expect(code(life, service(['directions-1'], 'service-x'))).toBe('unknown-service');
    life.do(write(null), { id: 'directions-2' });
    life.do({ type: 'RetireDirections', directions: 'directions-2' });
    expect(code(life, service(['directions-1', 'directions-2']))).toBe('unknown-directions');
  });

  it('[S9] the first service is the usual one until another is chosen or it is retired', () => {
    const life = FloorLife.salon();
    life.do(service(['directions-1']), { id: 'service-2' });
    expect(life.floor.salon.usualService).toBe('service-1');
    life.do({ type: 'ChooseUsualService', service: 'service-2' });
    expect(life.floor.salon.usualService).toBe('service-2');
    life.do({ type: 'RetireService', service: 'service-1' });
    expect(life.floor.salon.usualService).toBe('service-2');
    const both = (named: string) => [
      code(life, { type: 'RetireService', service: named }),
      code(life, { type: 'ChooseUsualService', service: named }),
    ];
    expect(both('service-1')).toEqual(['unknown-service', 'unknown-service']);
    expect(both('service-x')).toEqual(['unknown-service', 'unknown-service']);
    life.do({ type: 'RetireService', service: 'service-2' });
    expect(life.floor.salon.usualService).toBeNull();
    life.do(service(['directions-1'], 'service-2'));
    expect(life.floor.services['service-2']?.retired).toBe(false);
  });

  it('[R2] a stage is limited once, to between a minute and twelve hours; what has ended is not', () => {
    const life = FloorLife.salon();
    const limited = (...limits: (readonly [Stage, number])[]) =>
      code(life, {
        ...service(['directions-1']),
        limits: limits.map(([stage, minutes]) => ({ stage, limitMs: minutes * MINUTE })),
      });
    expect(limited(['apply', 1], ['dry', 720])).toBe('done');
    expect(limited(['apply', 1 - 1 / 60])).toBe('out-of-range');
    expect(limited(['apply', 720 + 1 / 60])).toBe('out-of-range');
    expect(limited(['apply', 5], ['apply', 6])).toBe('out-of-range');
    expect(limited(['finished', 5])).toBe('out-of-range');
  });

  it('[S10] directions that a service still uses are not retired', () => {
    const life = FloorLife.salon();
    const retire = (directions: string) => code(life, { type: 'RetireDirections', directions });
    expect([retire('directions-1'), retire('directions-x')]).toEqual(['in-use', 'unknown-directions']);
    life.do({ type: 'RetireService', service: 'service-1' });
    expect([retire('directions-1'), retire('directions-1')]).toEqual(['done', 'unknown-directions']);
    expect(life.floor.directions['directions-1']?.retired).toBe(true);
  });
});

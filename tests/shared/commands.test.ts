import { describe, expect, it } from 'vitest';
import { commandRequest } from '../../shared/schemas/commands.ts';

const water = { id: 'command-0001', type: 'BeginRinse', chair: 3 };

describe('requests', () => {
  it('[S8] what is left out is null, never missing', () => {
    expect(commandRequest.parse(water)).toEqual({
      ...water,
      by: null,
      device: null,
      seen: null,
      happenedAt: null,
      visit: null,
      basin: null,
    });
  });

  it('[S8] ids are 8 to 64 of letters, digits, _ and -', () => {
    for (const id of ['a'.repeat(8), 'a'.repeat(64), 'A-z_0-9x'])
      expect(commandRequest.safeParse({ ...water, id }).success).toBe(true);
    for (const id of ['a'.repeat(7), 'a'.repeat(65), 'ä'.repeat(8), 'with space', 'line\nbreak', '']) {
      expect(commandRequest.safeParse({ ...water, id }).success).toBe(false);
    }
  });

  it('[S8] words are trimmed and composed, so that equal ones are equal', () => {
    const add = { id: 'command-0001', type: 'AddPerson', name: '  Ame\u0301lie ', roles: ['stylist'] };
    expect(commandRequest.parse(add)).toMatchObject({ name: 'Am\u00e9lie' });
  });

  it('[S8] labels of places are 1 to 4, names 1 to 40, sources and notes to 200', () => {
    const fits = (body: object): boolean => commandRequest.safeParse({ id: 'command-0001', ...body }).success;
    const place = (label: string): boolean => fits({ type: 'RelabelPlace', number: 1, label });
    const person = (name: string): boolean => fits({ type: 'AddPerson', name, roles: [] });
    const reason = (text: string): boolean =>
      fits({ type: 'CorrectTime', visit: 'visit-0001', of: 1, to: 1, reason: text });
    expect([place('A'), place('1234'), place(''), place('12345')]).toEqual([true, true, false, false]);
    expect([person('A'), person('a'.repeat(40)), person(' '), person('a'.repeat(41))]).toEqual([
      true,
      true,
      false,
      false,
    ]);
    expect([reason('a'.repeat(200)), reason('a'.repeat(201))]).toEqual([true, false]);
  });

  it('[S2] a place is numbered 1 to 999', () => {
    for (const chair of [1, 999]) expect(commandRequest.safeParse({ ...water, chair }).success).toBe(true);
    for (const chair of [0, 1000, -1, 1.5, '1', null])
      expect(commandRequest.safeParse({ ...water, chair }).success).toBe(false);
  });
});

import { decide } from '../../core/decide.ts';
import type { Command } from '../../core/command.ts';
import { defaultParts, type Rules } from '../../core/directions/rules.ts';
import { evolve } from '../../core/evolve.ts';
import { emptyFloor, type Floor } from '../../core/floor.ts';
import { MINUTE, SECOND, type EpochMs } from '../../core/time.ts';

/** Noon of an invented day. */
const START: EpochMs = Date.UTC(2026, 2, 10, 12);

/** Invented figures, such as a salon would copy from its product. */
export const rules: Rules = {
  class: 'hydroxide',
  nominalMs: 15 * MINUTE,
  minAfterMs: 10 * MINUTE,
  maxAfterMs: 15 * MINUTE,
  ceilingMs: 30 * MINUTE,
  minTotalMs: null,
  manner: 'whole-head',
  parts: defaultParts,
  firstTestMs: 5 * MINUTE,
  testEveryMs: 5 * MINUTE,
  graceMs: 2 * MINUTE,
  rinseMs: 5 * MINUTE,
  finishing: [{ kind: 'condition', dwellMs: 3 * MINUTE }],
  heat: 'never',
  underHeat: null,
  headsPerContainer: null,
  washAfterHours: null,
  colourAfterDays: null,
};

/** A floor with so many running heads, half of them still in application with parts marked, and the instant they are at. */
export function runningFloor(heads: number): { readonly floor: Floor; readonly now: EpochMs } {
  let floor = emptyFloor;
  let now = START;
  let seq = 0;
  const say = (command: Command, id = `c${seq}`): string => {
    const sender = { id, by: null, device: null, seen: null, happenedAt: null };
    const { events, answer } = decide(floor, command, sender, now);
    if (answer.outcome !== 'done') throw new Error(`refused: ${answer.code}`);
    for (const draft of events) {
      seq += 1;
      const recorded = { ...draft, seq, version: seq, recordedAt: now, by: null, device: null, command: id };
      floor = evolve(floor, recorded);
    }
    return answer.visit ?? '';
  };
  say({ type: 'SetUpSalon', name: 'Bench', zone: 'UTC', language: 'en', hourCycle: 'h23', demonstration: true });
  say({ type: 'WriteDirections', directions: null, name: 'Product', source: 'invented', rules }, 'directions');
  say({ type: 'WriteService', service: null, name: 'Service', passes: ['directions'], limits: [] }, 'service');
  for (let chair = 1; chair <= heads; chair += 1) {
    say({ type: 'AddPlace', kind: 'chair', number: chair, label: String(chair) });
    now += SECOND;
    const visit = say({ type: 'BeginApplication', chair, visit: null, service: 'service' }, `visit-${chair}`);
    now += SECOND;
    for (const part of [0, 1]) say({ type: 'MarkPartDone', visit, part });
    if (chair % 2 === 0) say({ type: 'FinishApplication', visit });
  }
  return { floor, now: now + MINUTE };
}

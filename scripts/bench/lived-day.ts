import type { Command } from '../../core/command.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import type { Reading } from '../../core/trust/timescale.ts';
import { Engine } from '../../server/engine/engine.ts';
import type { Store } from '../../server/store/store.ts';
import { rules } from './floor.ts';

/** An engine on a store, worked by hand: every command is answered at once, time passes when told. */
export class LivedDay {
  readonly #engine: Engine;
  #at: Reading;
  readonly #name: string;
  #commands = 0;

  /** `name` begins the ids of what is done in it. */
  constructor(store: Store, startAt: EpochMs, name: string) {
    this.#name = name;
    this.#at = { wall: startAt, mono: 0, uptime: MINUTE, bootId: 'bench' };
    const quiet = (): void => undefined;
    this.#engine = new Engine({
      store,
      clock: { read: () => this.#at },
      timers: { soon: (task) => task(), after: () => quiet, every: () => quiet },
      log: { error: (details) => void console.error(details), warn: quiet, info: quiet },
      freshId: () => this.#fresh(),
    });
  }

  #fresh(): string {
    this.#commands += 1;
    return `${this.#name}-command-${this.#commands}`;
  }

  pass(ms: Ms): this {
    const { wall, mono, uptime, bootId } = this.#at;
    this.#at = { wall: wall + ms, mono: mono + ms, uptime: uptime + ms, bootId };
    this.#engine.turn();
    return this;
  }

  async do(command: Command, id = this.#fresh()): Promise<string> {
    const sender = { id, by: null, device: null, seen: null, happenedAt: null };
    const reply = await this.#engine.submit({ ...command, ...sender });
    if ('refused' in reply) throw new Error(`refused: ${command.type} ${reply.refused.code}`);
    return reply.accepted.visit ?? '';
  }

  async setUp(chairs: number): Promise<void> {
    await this.do({
      type: 'SetUpSalon',
      name: 'Bench',
      zone: 'UTC',
      language: 'en',
      hourCycle: 'h23',
      demonstration: false,
    });
    for (let number = 1; number <= chairs; number += 1) {
      await this.do({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
    }
    await this.do({ type: 'AddPlace', kind: 'basin', number: 91, label: 'A' });
    const product = { type: 'WriteDirections', directions: null, name: 'Product', source: 'invented', rules } as const;
    await this.do(product, 'bench-directions');
    const service = { type: 'WriteService', service: null, name: 'Service', passes: ['bench-directions'], limits: [] };
    await this.do(service as Command, 'bench-service');
  }

  /** From the seat to the door with all that is usually touched, bells included. */
  async wholeVisit(chair: number): Promise<string> {
    const visit = await this.do({
      type: 'SeatVisit',
      chair,
      service: 'bench-service',
      stylist: null,
      label: 'Client',
    });
    await this.pass(5 * MINUTE).do({ type: 'BeginApplication', chair, visit, service: null });
    for (const part of [0, 1, 2, 3]) await this.pass(3.5 * MINUTE).do({ type: 'MarkPartDone', visit, part });
    const test = { type: 'TestStrand', visit, place: 'first', result: 'not-yet', part: null, note: null } as const;
    await this.pass(6 * MINUTE).do(test);
    await this.pass(5 * MINUTE).do({ type: 'BeginRinse', chair, visit, basin: 91 });
    await this.pass(6 * MINUTE).do({ type: 'ClearAndOff', visit });
    await this.pass(4 * MINUTE).do({ type: 'MoveOn', visit, to: 'dry' });
    await this.pass(15 * MINUTE).do({ type: 'MoveOn', visit, to: 'finished' });
    this.pass(SECOND);
    return visit;
  }
}

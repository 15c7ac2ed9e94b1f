import type { Recorded } from '../../../core/events.ts';
import type { Floor } from '../../../core/floor.ts';
import type { HookDocument, HookMade, HookTested, HookTold, HookWanted } from '../../../shared/hooks.ts';
import type { HookRow, ReachTables } from '../../store/reach-tables.ts';
import { addressFault, type OwnName } from './destination.ts';
import { documentAbout, documentOf } from './hook-document.ts';
import { HookLane, type LaneDeps, type Letter } from './hook-lane.ts';
import { usefulFor } from './patience.ts';
import { freshSecret } from './standard-webhook.ts';
import { stepsTold } from './steps-told.ts';

/** A house has a handful of lamps; each is a lane of its own. */
export const MOST_HOOKS = 20;

/** What is heard of a turn; the engine's `Change` is one. */
export interface TurnTold {
  readonly floor: Floor;
  readonly events: readonly Recorded[];
}

export interface FollowedEngine {
  readonly floor: Floor;
  subscribe(listener: (turn: TurnTold) => void): () => void;
}

export interface HooksDeps extends LaneDeps {
  readonly tables: Pick<ReachTables, 'hooks' | 'keepHook' | 'dropHook'>;
  readonly engine: FollowedEngine;
  readonly own: OwnName;
  readonly freshId: () => string;
}

/** Tells lights and buzzers of every step of a bell. Follows the engine's turns from behind: none of it happens inside one. */
export class Hooks {
  readonly #deps: HooksDeps;
  readonly #lanes = new Map<string, HookLane>();
  #before: Floor;
  #stopFollowing: () => void = () => undefined;

  constructor(deps: HooksDeps) {
    this.#deps = deps;
    this.#before = deps.engine.floor;
    for (const row of deps.tables.hooks()) this.#lanes.set(row.id, new HookLane(row, deps));
  }

  /** From now on; what stands already is told once, for nothing that waited outlived the last run. */
  begin(): void {
    const { engine, timers, log, now } = this.#deps;
    this.#before = engine.floor;
    this.#tell(documentAbout('standing', 'server-started', now(), engine.floor));
    this.#stopFollowing = engine.subscribe((turn) => {
      const before = this.#before;
      this.#before = turn.floor;
      if (this.#lanes.size === 0 || turn.events.length === 0) return;
      timers.soon(() => {
        try {
          const floors = { before, after: turn.floor };
          for (const step of stepsTold(turn.events, floors)) this.#tell(documentOf(step, turn.floor));
        } catch (error) {
          log.error({ err: error }, 'the hooks could not be told of a turn');
        }
      });
    });
  }

  end(): void {
    this.#stopFollowing();
    for (const lane of this.#lanes.values()) lane.close();
  }

  list(): HookTold[] {
    return [...this.#lanes.values()].map(toldOf);
  }

  /** Why a hook cannot have this address; null where it can. */
  addressFault(url: string): string | null {
    return addressFault(url, this.#deps.own);
  }

  get full(): boolean {
    return this.#lanes.size >= MOST_HOOKS;
  }

  add({ name, url }: HookWanted): HookMade {
    const { tables, freshId, wall } = this.#deps;
    const row: HookRow = { id: freshId(), name, url, secret: freshSecret(), on: true, madeAt: wall() };
    tables.keepHook(row);
    const lane = new HookLane(row, this.#deps);
    this.#lanes.set(row.id, lane);
    return { hook: toldOf(lane), secret: row.secret };
  }

  /** What waits for one that is put off is dropped with its lane; one put on hears what stands. Null: there is no such hook. */
  turn(id: string, on: boolean): HookTold | null {
    const lane = this.#lanes.get(id);
    if (lane === undefined) return null;
    if (lane.hook.on === on) return toldOf(lane);
    const { tables, engine, now } = this.#deps;
    const row = { ...lane.hook, on };
    tables.keepHook(row);
    lane.close();
    const fresh = new HookLane(row, this.#deps);
    this.#lanes.set(id, fresh);
    if (on) fresh.push(this.#letter(documentAbout('standing', 'put-on', now(), engine.floor)));
    return toldOf(fresh);
  }

  /** Whether there was one. */
  remove(id: string): boolean {
    const lane = this.#lanes.get(id);
    if (lane === undefined) return false;
    this.#deps.tables.dropHook(id);
    lane.close();
    return this.#lanes.delete(id);
  }

  /** The very path of a step, also for one that is put off. Null: there is no such hook. */
  test(id: string): Promise<HookTested> | null {
    const { engine, now } = this.#deps;
    const lane = this.#lanes.get(id);
    return lane?.test(this.#letter(documentAbout('test', 'asked-for', now(), engine.floor))) ?? null;
  }

  #tell(document: HookDocument): void {
    const letter = this.#letter(document);
    for (const lane of this.#lanes.values()) if (lane.hook.on) lane.push(letter);
  }

  #letter(document: HookDocument): Letter {
    const { freshId, elapsed } = this.#deps;
    return {
      id: `msg_${freshId()}`,
      body: JSON.stringify(document),
      bornAt: elapsed(),
      usefulForMs: usefulFor[document.data.step],
    };
  }
}

function toldOf({ hook, waiting, deliveredAt, failing }: HookLane): HookTold {
  const { id, name, url, on } = hook;
  return { id, name, url, on, waiting, deliveredAt, failing };
}

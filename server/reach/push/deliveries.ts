import { MINUTE, type Ms } from '../../../core/time.ts';
import type { BellLevel } from '../../../core/bells/level.ts';
import type { DeviceId } from '../../../core/ids.ts';
import type { PushMessage, PushTrouble } from '../../../shared/push.ts';
import type { PushSubscriptionRow } from '../../store/reach-tables.ts';
import { PushLane, type LaneDeps } from './push-lane.ts';
import { sealed, type Sender } from './sealed.ts';

/**
 * How long a push is worth delivering. A locked phone is woken within about 30 s (home-assistant/core#22988) and comes back from a
 * lift or a dead spot within minutes; after five the bell has long been carried to others, and would only mislead.
 */
export const USEFUL_FOR: Ms = 5 * MINUTE;

export interface Outgoing {
  /** Whatever is newer under the same key makes what waits of it needless. */
  readonly key: string;
  readonly level: BellLevel;
  readonly message: PushMessage;
  readonly topic: string | null;
}

/** One lane per device: whatever happens in one is of no concern to any other. */
export class Deliveries {
  readonly #deps: LaneDeps;
  readonly #gone: (device: DeviceId) => void;
  readonly #lanes = new Map<DeviceId, PushLane>();

  /** `gone`: the push service of a device knows it no more. */
  constructor(deps: LaneDeps, gone: (device: DeviceId) => void) {
    this.#deps = deps;
    this.#gone = gone;
  }

  /** Takes it and returns at once. `sender` is asked as it leaves. */
  send(row: PushSubscriptionRow, { key, level, message, topic }: Outgoing, sender: () => Sender): void {
    const { elapsed } = this.#deps;
    const usefulUntil = elapsed() + USEFUL_FOR;
    const text = JSON.stringify(message);
    const seal = () => sealed(row, { message: text, topic, usefulForMs: usefulUntil - elapsed() }, sender());
    this.#laneOf(row.device).push({ key, level, usefulUntil, seal });
  }

  troubleOf(device: DeviceId): PushTrouble | null {
    return this.#lanes.get(device)?.trouble ?? null;
  }

  close(device: DeviceId): void {
    this.#lanes.get(device)?.close();
    this.#lanes.delete(device);
  }

  /** Nothing of what waits leaves any more. */
  closeAll(): void {
    for (const lane of this.#lanes.values()) lane.close();
    this.#lanes.clear();
  }

  #laneOf(device: DeviceId): PushLane {
    const open = this.#lanes.get(device);
    if (open !== undefined) return open;
    const lane: PushLane = new PushLane(
      device,
      () => {
        // One that was closed for a newer subscription speaks of the former.
        if (this.#lanes.get(device) === lane) this.#gone(device);
      },
      this.#deps,
    );
    this.#lanes.set(device, lane);
    return lane;
  }
}

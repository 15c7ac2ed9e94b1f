import type { Command } from '../../../core/command.ts';
import type { PersonId, VisitId } from '../../../core/ids.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { ahead, type OwnTouch } from './ahead.ts';
import { browserOutbox } from './browser-outbox.ts';
import type { FloorMirror } from './floor-mirror.svelte.ts';
import { chairNamed, lanesStuck } from './lanes.ts';
import type { Outbox, ServerSight } from './outbox.svelte.ts';
import { isOpen } from './queue.ts';
import { Sender, type Sent } from './sender.svelte.ts';

interface Deps {
  readonly server: () => ServerSight;
  readonly person: () => PersonId | null;
  readonly device: string;
  readonly mirror: FloorMirror;
  /** The server has not been heard for a while, whatever the line says. */
  readonly unheard: () => boolean;
}

/** What a screen that people touch has besides what it shows; the wall, which nobody touches, does without it. */
export class Hands {
  /** What was touched on this device and has no outcome yet; shared by its pages. */
  readonly outbox: Outbox;
  readonly sender: Sender;
  readonly foresee = ahead;
  readonly #deps: Deps;
  #shown: readonly string[] = [];

  constructor(deps: Deps) {
    this.#deps = deps;
    this.outbox = browserOutbox(deps);
    this.sender = new Sender(this.outbox, () => deps.server().linked);
  }

  /** A touch about a visit carries the version that this screen has heard, and names its own touches that it shows ahead (S7). */
  about(visit: VisitFacts | null, command: Command, happenedAt: number | null): Promise<Sent> {
    const { mirror } = this.#deps;
    const chair = visit?.chair ?? chairNamed(command);
    const seen = visit === null ? null : mirror.heardVersion(visit.id);
    const mine = visit === null ? [] : mirror.touches.filter((one) => concerns(one, visit.id));
    return this.sender.send(command, { seen, happenedAt, over: mine[mine.length - 1]?.id ?? null, chair });
  }

  /** Called every second: sends what may go, and shows ahead what does not get through until what it did has come by push. */
  look(): void {
    const { mirror, server, unheard } = this.#deps;
    this.outbox.look();
    const { unsettled, underWay } = this.outbox;
    const stuck = lanesStuck(unsettled.filter(isOpen), server().linked && !unheard(), underWay);
    const shown = unsettled.filter(({ id, lane }) => stuck.has(lane) || this.#shown.includes(id));
    this.#shown = shown.map(({ id }) => id);
    if (shown.length > 0 || mirror.touches.length > 0) mirror.touches = shown;
  }
}

/** Whether a touch is about a visit, or made it. */
function concerns({ id, command }: OwnTouch, visit: VisitId): boolean {
  return id === visit || ('visit' in command && command.visit === visit);
}

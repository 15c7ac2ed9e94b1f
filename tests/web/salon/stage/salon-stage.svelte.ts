import type { Command } from '../../../../core/command.ts';
import { wordKey } from '../../../../core/words.ts';
import { problemOf } from '../../../../shared/problem.ts';
import type { FloorEntity } from '../../../../shared/wire.ts';
import type { Sent } from '../../../../web/src/state/sender.svelte.ts';
import type { Session } from '../../../../web/src/state/session.svelte.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { StagedSession } from '../../stage/staged-session.svelte.ts';

let count = 0;

/** A staged session that answers as the server does: done or refused, sources included. */
export class SalonStage extends StagedSession {
  /** Refuses what comes next with this code, as somebody else's touch might make the server do. */
  refuseNext: 'label-taken' | 'directions-contradict' | 'in-use' | null = null;

  override show(): void {
    super.show();
    const entities: Record<string, FloorEntity> = { ...this.mirror.heard };
    for (const [key, entity] of Object.entries(entities)) {
      if (entity.kind !== 'directions') continue;
      const { id, version } = entity.facts;
      entities[key] = { ...entity, source: this.life.floor.words[wordKey.source(id, version)] ?? null };
    }
    this.mirror.heard = entities;
  }

  answer(command: Command): Sent {
    count += 1;
    const id = `staged-command-${count}`;
    const of = { id, command, chair: null, at: this.now };
    if (this.refuseNext !== null) {
      const problem = problemOf(this.refuseNext, { field: 'rules.maxAfterMs:max-below-min' });
      this.refuseNext = null;
      return { ...of, outcome: 'refused', problem, late: false };
    }
    const answer = this.life.send(command, { id, by: this.person });
    this.show();
    if (answer.outcome === 'refused') {
      return {
        ...of,
        outcome: 'refused',
        problem: problemOf(answer.code, { field: answer.field, place: answer.place }),
        late: false,
      };
    }
    return { ...of, outcome: 'done', answer: { outcome: 'done', visit: null, version: null, revision: 0 } };
  }

  get salonSession(): Session {
    // The base's `about` returns nothing; this page waits for the outcome.
    (this as { about: unknown }).about = (_visit: null, command: Command) => Promise.resolve(this.answer(command));
    return this.session;
  }
}

export function freshStage(): SalonStage {
  return new SalonStage(new FloorLife());
}

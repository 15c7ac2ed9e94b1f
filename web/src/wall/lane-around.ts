import { audienceOf, nobodys } from '../../../core/bells/circles.ts';
import { ownerOf } from '../../../core/bells/subject.ts';
import type { ChairOnFloor } from '../state/floor-mirror.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import type { LaneAround } from './lane-words.ts';

/** What a lane needs to know besides its head: bells of the chair itself, and whether anybody is here to be asked. */
export function laneAround({ number, visit }: ChairOnFloor, session: Pick<Session, 'mirror' | 'now'>): LaneAround {
  const { bells, salon, staff } = session.mirror;
  const owner = visit === null ? nobodys : ownerOf(visit);
  return {
    bells: bells.filter((one) => one.visit === null && one.chair === number).map(({ bell }) => bell),
    named: salon.room.names,
    asked: (bell) => audienceOf(bell, owner, staff, session.now).length > 0,
  };
}

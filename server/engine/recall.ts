import { visitOf } from '../../core/events.ts';
import type { VisitId } from '../../core/ids.ts';
import { evolveVisit, type Visit } from '../../core/visit/history.ts';
import { wordKey } from '../../core/words.ts';
import type { Store } from '../store/store.ts';
import type { EngineLog } from './engine-log.ts';
import type { LogState } from './log-state.ts';
import type { Asked } from './plan.ts';

/**
 * The floor with the visits that somebody speaks of although they need no watching any more: a reason given at the till, words to
 * be erased, what a phone did while it was away. The log is asked, so that they are judged like any other; they are forgotten again
 * with the turn.
 */
export function withRecalled(
  state: LogState,
  asked: readonly Asked[],
  { store, log }: { readonly store: Store; readonly log: EngineLog },
): LogState {
  try {
    return recalled(state, asked, store);
  } catch (error) {
    log.error({ err: error }, 'an earlier visit could not be read');
    return state;
  }
}

function recalled(state: LogState, asked: readonly Asked[], store: Store): LogState {
  let { floor } = state;
  for (const { request } of asked) {
    const id = 'visit' in request ? request.visit : null;
    if (id === null || floor.visits[id] !== undefined) continue;
    const visit = read(id, store);
    if (visit === undefined) continue;
    const words = { ...floor.words, ...store.wordsOf(wordKey.aboutVisit(id)) };
    floor = { ...floor, visits: { ...floor.visits, [id]: visit }, words };
  }
  return floor === state.floor ? state : { ...state, floor };
}

function read(id: VisitId, store: Store): Visit | undefined {
  return store
    .eventsOf(id)
    .filter(({ stream }) => visitOf(stream) === id)
    .reduce<Visit | undefined>((visit, recorded) => evolveVisit(visit, id, recorded), undefined);
}

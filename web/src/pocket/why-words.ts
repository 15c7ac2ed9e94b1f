import type { BellKind } from '../../../core/bells/bell.ts';
import { productOn } from '../../../core/visit/visit.ts';
import type { FloorMirror } from '../state/floor-mirror.svelte.ts';
import type { Words } from '../words/words.ts';
import type { WhyMe } from './why-me.ts';

/** Why a bell came to whoever holds the phone. */
export function whyWords(why: WhyMe, mirror: Pick<FloorMirror, 'nameOf'>, w: Words): string {
  const say = w.pocket.why;
  if (!('of' in why)) return say[why.why];
  return say[why.why](mirror.nameOf(why.of) ?? w.chair.helper.somebody);
}

type Floor = Pick<FloorMirror, 'visits' | 'labelOf'>;

/** What to do about a bell of the whole floor; null where its own sentence says it. */
export function floorAdvice(kind: BellKind, mirror: Floor, w: Words): string | null {
  const { floor } = w.pocket;
  if (kind === 'nobody-reached') {
    const on = mirror.visits.map(({ facts }) => facts).filter(productOn);
    const chairs = on.map(({ chair }) => chair).sort((a, b) => a - b);
    return floor['nobody-reached'](chairs.map((chair) => mirror.labelOf(chair)).join(', '));
  }
  return kind === 'not-saved' || kind === 'time-uncertain' ? floor[kind] : null;
}

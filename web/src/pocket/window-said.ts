import type { EpochMs } from '../../../core/time.ts';
import type { Sureness } from '../../../core/visit/headline.ts';
import type { HairWindow } from '../chair/hair-window.ts';
import type { Words } from '../words/words.ts';

/** A word and the clock time or span that belongs to it (E8). */
export interface Said {
  readonly word: string;
  readonly text: string;
  readonly sureness: Sureness;
  /** Said more quietly. */
  readonly soft: boolean;
}

interface Telling {
  readonly uncertain: boolean;
  readonly clock: (at: EpochMs) => string;
  readonly words: Words;
}

/** The window in clock times: from and off by, its room or that there is none (E4), ready and until when (E6). */
export function windowSaid(window: HairWindow, { uncertain, clock, words: w }: Telling): readonly Said[] {
  const marked = (expected: boolean): Sureness => (uncertain ? 'uncertain' : expected ? 'expected' : 'firm');
  const one = (word: string, at: EpochMs | null, expected: boolean, soft = false): readonly Said[] =>
    at === null ? [] : [{ word, text: clock(at), sureness: marked(expected), soft }];
  const { clock: span } = w.units;
  const room: Said = {
    word: '',
    text: w.lane.room(span(Math.floor(window.roomMs / 60_000), Math.floor((window.roomMs % 60_000) / 1_000))),
    sureness: marked(window.expected),
    soft: true,
  };
  const offBy = w.deeds['off-by'];
  const said =
    window.roomMs < 0
      ? one(w.pocket.noRoomOffBy, window.closesAt, window.closeExpected)
      : window.readyAt !== null
        ? [...one(w.pocket.ready, window.readyAt, false), ...one(offBy, window.closesAt, false)]
        : [
            ...one(w.chair.fromWord, window.opensAt, window.expected),
            ...one(offBy, window.closesAt, window.closeExpected),
            room,
          ];
  return [
    ...said,
    ...one(w.pocket.finishBy, window.finishByAt, false, true),
    ...one(w.pocket.expectedFinish, window.expectedFinishAt, true, true),
    ...one(w.pocket.nextTest, window.testAt, false, true),
  ];
}

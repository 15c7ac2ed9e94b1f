import { DIGIT_ADVANCE } from '../parts/geometry/typeface.ts';

/** Width of a text at 1 px of type; multiplied by the type size it is the width painted. */
export type Measure = (text: string, weight: number) => number;

/** Asks the canvas once for each text: the same few texts come again every second. */
export function canvasMeasure(context: Pick<CanvasRenderingContext2D, 'font' | 'measureText'> | null): Measure {
  const known = new Map<string, number>();
  return (text, weight) => {
    const key = `${weight}/${text}`;
    let em = known.get(key);
    if (em === undefined) {
      // Numbers change for ever; the wall runs for ever.
      if (known.size > 2_000) known.clear();
      em = context === null ? text.length * 0.6 : measured(context, text, weight);
      known.set(key, em);
    }
    return em;
  };
}

const AT_PX = 100;
const DIGIT = /[0-9]/g;

/** A canvas knows no tabular digits: they are counted apart, at the one width they all have on the screen. */
function measured(context: Pick<CanvasRenderingContext2D, 'font' | 'measureText'>, text: string, weight: number) {
  context.font = `${weight} ${AT_PX}px "Public Sans", system-ui, sans-serif`;
  const digits = text.match(DIGIT)?.length ?? 0;
  return context.measureText(text.replace(DIGIT, '')).width / AT_PX + digits * DIGIT_ADVANCE;
}

/** The first wording that fits, else the shortest: nothing is cut, it is worded shorter. */
export function firstThatFits<Wording>(
  wordings: readonly [Wording, ...Wording[]],
  widthOf: (wording: Wording) => number,
  roomPx: number,
): Wording {
  return wordings.find((one) => widthOf(one) <= roomPx) ?? (wordings[wordings.length - 1] as Wording);
}

/** Type size at which a text fits, at most the wished one. */
export function typeThatFits(wishedPx: number, widthEm: number, roomPx: number): number {
  return widthEm * wishedPx <= roomPx || widthEm === 0 ? wishedPx : Math.max(8, roomPx / widthEm);
}

import { DIGIT_ADVANCE } from '../parts/geometry/typeface.ts';

/** Width of a text at 1 px of type; multiplied by the type size it is the width painted. */
export type Measure = (text: string, weight: number) => number;

const AT_PX = 100;
const DIGIT = /[0-9]/g;
/** Wordings come from a catalogue and labels from people: far more than any floor says. */
const MOST_KNOWN = 500;

/**
 * Asks the canvas once for each wording: the same few come again every second. A canvas knows no tabular digits, so they are
 * counted apart, at the one width they all have on the screen; numbers change for ever, and are not remembered.
 */
export function canvasMeasure(context: Pick<CanvasRenderingContext2D, 'font' | 'measureText'> | null): Measure {
  const known = new Map<string, number>();
  return (text, weight) => {
    if (context === null) return text.length * 0.6;
    const plain = text.replace(DIGIT, '');
    const key = `${weight}/${plain}`;
    let em = known.get(key);
    if (em === undefined) {
      if (known.size > MOST_KNOWN) known.clear();
      context.font = `${weight} ${AT_PX}px "Public Sans", system-ui, sans-serif`;
      em = context.measureText(plain).width / AT_PX;
      known.set(key, em);
    }
    return em + (text.length - plain.length) * DIGIT_ADVANCE;
  };
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

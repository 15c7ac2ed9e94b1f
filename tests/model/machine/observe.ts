import { passOf, productOn, type Head } from './head.ts';
import { shampoosWanted } from './ringing.ts';
import { certainClose, touched } from './window.ts';

/** What model and core must agree on, in plain words. */
export interface Observed {
  stage: string;
  pass: number | null;
  product: boolean;
  beginUnknown: string;
  parts: number;
  /** Who is at the head now, in the order in which they came. */
  hands: string;
  /** First and last touch of each part, in seconds since the sequence began, and the certain close. */
  hair: string;
  shampoos: string;
  burns: string;
  tingles: string;
  /** Whose head it is, and to whom it is being handed over. */
  whose: string;
  end: string;
  settled: boolean;
  bells: string;
  owed: string;
}

export const nobody: Observed = {
  stage: 'none',
  pass: null,
  product: false,
  beginUnknown: '',
  parts: 0,
  hands: '',
  hair: '',
  shampoos: '',
  burns: '',
  tingles: '',
  whose: '',
  end: '',
  settled: false,
  bells: '',
  owed: '',
};

export const observedKeys = Object.keys(nobody) as (keyof Observed)[];

/** Told once per head as it is: heads are never changed in place. */
const told = new WeakMap<Head, Observed>();

/** What the model predicts of the head. */
export function predicted(head: Head | null): Observed {
  if (head === null) return nobody;
  const known = told.get(head) ?? prediction(head);
  told.set(head, known);
  return known;
}

function prediction(head: Head): Observed {
  const pass = passOf(head);
  const burns = head.burns;
  return {
    stage: head.stage,
    pass: head.stage === 'finished' ? null : head.pass,
    product: productOn(head),
    beginUnknown: head.passes.map((one) => one.unknown).join(),
    parts: pass.parts.length,
    hands: pass.hands
      .filter((one) => one.until === null)
      .map((one) => one.by ?? 'somebody')
      .join(', '),
    hair: `${touched(pass)
      .map(({ part, from, until }) => `${String(part)}: ${String(from)}–${String(until ?? '')}`)
      .sort()
      .join(', ')}; ${String(certainClose(pass) ?? 'open')}`,
    shampoos: head.stage === 'neutralize' ? `${String(pass.shampoos.length)} of ${String(shampoosWanted(pass))}` : '',
    burns:
      burns === null ? '' : `${burns.place} ${burns.open ? (burns.water ? 'counting' : 'to the water') : 'closed'}`,
    tingles: head.tingles === null ? '' : `${String(head.tingles.at)} ${head.tingles.answer ?? 'open'}`,
    whose: `${head.stylist ?? 'nobody'} to ${head.offered ?? 'nobody'}`,
    end: head.end ?? '',
    settled: head.settled,
    bells: Object.entries(head.bells)
      .map(
        ([cause, bell]) =>
          `${cause}/${bell.kind} ${bell.level} #${String(bell.episode)}${bell.taken ? ' taken' : ''}${bell.passed.map((one) => ` not ${one}`).join('')}`,
      )
      .sort()
      .join(', '),
    owed: [...new Set(head.owed.map((one) => `${one.item} ${one.stage}/${String(one.pass)}`))].sort().join(', '),
  };
}

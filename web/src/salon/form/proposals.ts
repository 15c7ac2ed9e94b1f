import type { PlaceKind } from '../../../../core/salon/salon.ts';
import { wordLimits } from '../../../../shared/protocol.ts';
import { faultAt, wordFault, type FieldFault } from './fault.ts';
import { wholeTyped } from './minutes.ts';

/** A chair or basin that is about to be added; the number as typed. */
export interface PlaceDraft {
  number: string;
  label: string;
}

/** What is taken already. Numbers of retired places stay theirs, so that what is written about them stays true. */
export interface PlacesKnown {
  readonly numbers: ReadonlySet<number>;
  /** In lower case: labels differ by more than case. */
  readonly labels: ReadonlySet<string>;
}

const MOST_NUMBER = 999;
/** Basins are proposed far from the chairs, so that a slip on the number pad hits nothing (our habit, no source). */
const FIRST_BASIN = 91;

/** A, B … Z, AA, AB … */
export function letterLabel(n: number): string {
  let label = '';
  for (let rest = n + 1; rest > 0; rest = Math.floor((rest - 1) / 26)) {
    label = String.fromCharCode(65 + ((rest - 1) % 26)) + label;
  }
  return label;
}

/** The next `count` chairs or basins: free numbers in order, labels that nobody has yet. */
export function proposePlaces(kind: PlaceKind, count: number, known: PlacesKnown): PlaceDraft[] {
  const drafts: PlaceDraft[] = [];
  const labels = new Set(known.labels);
  let letter = 0;
  for (let number = kind === 'chair' ? 1 : FIRST_BASIN; drafts.length < count && number <= MOST_NUMBER; number += 1) {
    if (known.numbers.has(number)) continue;
    if (kind === 'chair' && labels.has(String(number))) continue;
    while (kind === 'basin' && labels.has(letterLabel(letter).toLowerCase())) letter += 1;
    const label = kind === 'chair' ? String(number) : letterLabel(letter);
    labels.add(label.toLowerCase());
    drafts.push({ number: String(number), label });
  }
  return drafts;
}

/** What is wrong with the places about to be added, as `0.number`, `0.label`. */
export function placeFaults(drafts: readonly PlaceDraft[], known: PlacesKnown): FieldFault[] {
  const numbers = new Set(known.numbers);
  const labels = new Set(known.labels);
  return drafts.flatMap((draft, i): FieldFault[] => {
    const faults: FieldFault[] = [];
    const typed = wholeTyped(draft.number);
    if (typed.kind !== 'value') {
      faults.push(faultAt(`${i}.number`, typed.kind === 'empty' ? 'missing' : 'not-whole'));
    } else if (typed.value < 1 || typed.value > MOST_NUMBER) {
      faults.push(faultAt(`${i}.number`, 'out-of-range', '1', String(MOST_NUMBER)));
    } else {
      if (numbers.has(typed.value)) faults.push(faultAt(`${i}.number`, 'number-taken'));
      numbers.add(typed.value);
    }
    const label = draft.label.normalize('NFC').trim();
    const word = wordFault(`${i}.label`, label, wordLimits.placeLabel);
    if (word !== null) faults.push(word);
    else if (labels.has(label.toLowerCase())) faults.push(faultAt(`${i}.label`, 'label-taken'));
    labels.add(label.toLowerCase());
    return faults;
  });
}

/** What the machine says about where and how this salon tells the time. */
export interface Machine {
  readonly zone: string | undefined;
  readonly languages: readonly string[];
  readonly hourCycle: string | undefined;
}

export interface Manners {
  readonly zone: string;
  readonly language: string;
  readonly hourCycle: 'h12' | 'h23';
}

/** The machine's wishes among the languages that we speak: its own variant (`en-GB`), then plain ones. */
export function languageOptions(wished: readonly string[], spoken: readonly string[], kept: string): string[] {
  const speak = (tag: string): boolean =>
    spoken.some((one) => tag.toLowerCase() === one || tag.toLowerCase().startsWith(`${one}-`));
  return [...new Set([...wished, kept, ...spoken].filter(speak))];
}

export function proposeManners(machine: Machine, spoken: readonly string[]): Manners {
  return {
    zone: machine.zone ?? 'UTC',
    language: languageOptions(machine.languages, spoken, 'en')[0] ?? 'en',
    hourCycle: machine.hourCycle === 'h11' || machine.hourCycle === 'h12' ? 'h12' : 'h23',
  };
}

/** Zones by their region, those without one first; the wanted ones are among them even if the machine lists none. */
export function zonesByRegion(zones: readonly string[], wanted: readonly string[]): [string, string[]][] {
  const all = [...new Set(['UTC', ...wanted, ...zones])].sort();
  const regions = new Map<string, string[]>();
  for (const zone of all) {
    const region = zone.includes('/') ? zone.slice(0, zone.indexOf('/')) : '';
    regions.set(region, [...(regions.get(region) ?? []), zone]);
  }
  return [...regions].sort(([a], [b]) => (a < b ? -1 : 1));
}

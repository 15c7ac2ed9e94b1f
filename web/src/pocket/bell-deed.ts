import type { Bell } from '../../../core/bells/bell.ts';
import type { Headline } from '../../../core/visit/headline.ts';
import { deedWords } from '../chair/act-words.ts';
import type { FloorMirror } from '../state/floor-mirror.svelte.ts';
import type { Words } from '../words/words.ts';

type Names = Pick<FloorMirror, 'labelOf' | 'nameOf' | 'serviceName'>;

/** The deed of a head, or what its bell asks for where the deed alone would not say why it rings; the number stays (V1). */
export function bellDeed(bell: Bell | null, line: Headline, names: Names, w: Words): string {
  const { asked } = w.pocket;
  const plain = deedWords(line, names, w);
  if (bell?.kind === 'pace' && line.deed === 'finish-by') return asked.pace;
  if (bell?.kind === 'begun?' && line.deed === 'prepare') return asked.begun;
  if (bell?.kind === 'water-on?' && line.deed === 'rinse-clear')
    return line.basin === null ? asked.waterOn : w.deedAt(asked.waterOn, names.labelOf(line.basin));
  if (bell?.kind === 'water' && line.deed === 'rinse-clear') return asked.water;
  return plain;
}

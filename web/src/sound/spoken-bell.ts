import { headline, type HeadlineContext } from '../../../core/visit/headline.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';
import type { WallWords } from '../words/wall-words.ts';

type Said = Pick<WallWords, 'spokenBells'>;

/** A label as it is said: its figures as numbers, its letters as they stand ("W12" → "W twelve"). */
function saidLabel(label: string, { spokenBells }: Said): string {
  return label
    .replace(/\d{1,3}/g, (figures) => ` ${spokenBells.number(Number(figures))} `)
    .replace(/\s+/g, ' ')
    .trim();
}

/** The deed of a bell to rinse follows the lane's (V1): not "now" while the window is closed or the time is lost. */
function deedOf({ bell, visit }: StandingBell, context: HeadlineContext, { spokenBells }: Said): string {
  const usual = spokenBells.deeds[bell.kind];
  if (visit === null || (bell.kind !== 'rinse' && bell.kind !== 'over')) return usual;
  const { deed } = headline(visit, context);
  if (deed === 'look') return spokenBells.look;
  return deed === 'rinse-from' || deed === 'neutralizer-off-from' ? spokenBells.rinseSoon : usual;
}

/** The sentence for a bell (W4): the chair and the deed, no level, no name. `label`: the chair's; null for the whole floor. */
export function spokenBell(
  standing: StandingBell,
  label: string | null,
  context: HeadlineContext,
  words: Said,
): string {
  const deed = deedOf(standing, context, words);
  return label === null ? deed : words.spokenBells.at(saidLabel(label, words), deed);
}

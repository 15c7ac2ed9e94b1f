import type { BellCause } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';

/**
 * Which bell a phone means when somebody turns to something else while it rings: the same bell at a higher level, or in a
 * new episode, fills the screen again; so does one that was taken and sounds anew.
 */
export function bellKey({ bell, visit, chair }: Pick<StandingBell, 'bell' | 'visit' | 'chair'>): string {
  const { cause, episode, level, taken } = bell;
  return `${visit?.id ?? chair ?? 'floor'}/${cause}/${episode}/${level}/${taken?.at ?? ''}`;
}

/** Whoever holds a phone, and how bells stand to them. */
export interface Holder {
  readonly person: PersonId | null;
  /** It asks them (R6). */
  readonly asked: (standing: StandingBell) => boolean;
  /** It rings for them now; a mute of the device makes it quiet and hides nothing (R3, R4). */
  readonly rings: (standing: StandingBell) => boolean;
}

const byUrgency = (a: StandingBell, b: StandingBell): number =>
  rankOf(b.bell.level) - rankOf(a.bell.level) || a.bell.levelAt - b.bell.levelAt;

/** The bell that fills the screen: the most urgent one that rings for its holder, among equals the longest standing. */
export function ringing(
  bells: readonly StandingBell[],
  { person, rings }: Holder,
  folded: readonly string[],
): StandingBell | null {
  if (person === null) return null;
  const [first] = bells.filter((standing) => rings(standing) && !folded.includes(bellKey(standing))).sort(byUrgency);
  return first ?? null;
}

export interface OnScreen {
  readonly standing: StandingBell;
  /** Whoever holds this phone has said that they go. */
  readonly going: boolean;
}

const goes = ({ bell }: StandingBell, person: PersonId | null): boolean =>
  person !== null && bell.taken?.by === person && bell.level !== 'NOTICE';

/** What fills the screen: a bell that rings, else the one that its holder is on the way to. */
export function onScreen(bells: readonly StandingBell[], holder: Holder, folded: readonly string[]): OnScreen | null {
  const rings = ringing(bells, holder, folded);
  if (rings !== null) return { standing: rings, going: false };
  const mine = bells.filter((standing) => goes(standing, holder.person) && !folded.includes(bellKey(standing)));
  const latest = [...mine].sort((a, b) => (b.bell.taken?.at ?? 0) - (a.bell.taken?.at ?? 0))[0];
  if (latest === undefined) return null;
  // Several may have been taken at one head by the same touch: the most urgent speaks for them.
  const there = mine.filter(({ visit, chair }) => visit?.id === latest.visit?.id && chair === latest.chair);
  const [first = latest] = there.sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level));
  return { standing: first, going: true };
}

/**
 * What is said in a line on every page because nothing fills the screen with it: bells that were folded away while they ring, those
 * of a head at which somebody is (R3), and what its holder is on the way to. What somebody else goes to is left to its row.
 */
export function besides(
  bells: readonly StandingBell[],
  holder: Holder,
  shown: OnScreen | null,
): readonly StandingBell[] {
  const { person, asked, rings } = holder;
  if (person === null) return [];
  return bells
    .filter((standing) => standing.bell.level !== 'NOTICE' && standing !== shown?.standing)
    .filter(
      (standing) => goes(standing, person) || (asked(standing) && (standing.bell.taken === null || rings(standing))),
    )
    .sort(byUrgency);
}

/**
 * What one touch is about: every bell of that head that rings for its holder, for one person goes once. A bell of a chair or of the
 * floor is touched by itself.
 */
export function ringTogether(standing: StandingBell, rings: Holder['rings']): readonly BellCause[] {
  const { bell, visit, chair, rung } = standing;
  if (visit === null) return [bell.cause];
  const ringing = visit.bells.filter((one) => rings({ bell: one, visit, chair, rung })).map(({ cause }) => cause);
  return ringing.includes(bell.cause) ? ringing : [bell.cause, ...ringing];
}

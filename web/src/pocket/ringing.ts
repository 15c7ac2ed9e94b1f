import type { BellCause } from '../../../core/bells/bell.ts';
import { rankOf } from '../../../core/bells/level.ts';
import type { Sounding } from '../../../core/bells/sounding.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';

/**
 * Which bell a phone means when somebody says "not me": the same bell at a higher level, or in a new episode, asks
 * again; so does one that was taken and sounds anew.
 */
export function bellKey({ bell, visit, chair }: Pick<StandingBell, 'bell' | 'visit' | 'chair'>): string {
  const { cause, episode, level, taken } = bell;
  return `${visit?.id ?? chair ?? 'floor'}/${cause}/${episode}/${level}/${taken?.at ?? ''}`;
}

/** How a bell sounds on this phone; null when it does not. */
export type Sounds = (standing: StandingBell) => Sounding | null;

/**
 * The bell that fills the screen of somebody's phone: the most urgent one that sounds now, among equals the longest
 * standing; none where nobody holds the phone, and none that was put aside on it.
 */
export function ringing(
  bells: readonly StandingBell[],
  person: PersonId | null,
  aside: readonly string[],
  sounds: Sounds,
): StandingBell | null {
  if (person === null) return null;
  const [first] = bells
    .filter((standing) => sounds(standing) !== null && !aside.includes(bellKey(standing)))
    .sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level) || a.bell.levelAt - b.bell.levelAt);
  return first ?? null;
}

export interface OnScreen {
  readonly standing: StandingBell;
  /** Whoever holds this phone has said that they go. */
  readonly going: boolean;
}

/** What fills the screen: a bell that sounds, else the one that its holder is on the way to. */
export function onScreen(
  bells: readonly StandingBell[],
  person: PersonId | null,
  aside: readonly string[],
  sounds: Sounds,
): OnScreen | null {
  const rings = ringing(bells, person, aside, sounds);
  if (rings !== null) return { standing: rings, going: false };
  const mine = bells.filter(
    (standing) =>
      person !== null &&
      standing.bell.taken?.by === person &&
      standing.bell.level !== 'NOTICE' &&
      !aside.includes(bellKey(standing)),
  );
  const latest = [...mine].sort((a, b) => (b.bell.taken?.at ?? 0) - (a.bell.taken?.at ?? 0))[0];
  if (latest === undefined) return null;
  // Several may have been taken at one head by the same touch: the most urgent speaks for them.
  const there = mine.filter((standing) => standing.visit?.id === latest.visit?.id);
  const [first = latest] = there.sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level));
  return { standing: first, going: true };
}

/**
 * What "I'll go to 2" takes: every bell of that head that sounds, for one person goes once. A bell of the floor is
 * taken by itself.
 */
export function takenTogether(standing: StandingBell, sounds: Sounds): readonly BellCause[] {
  const { bell, visit, chair, rung } = standing;
  if (visit === null) return [bell.cause];
  const sounding = visit.bells
    .filter((one) => sounds({ bell: one, visit, chair, rung }) !== null)
    .map(({ cause }) => cause);
  return sounding.includes(bell.cause) ? sounding : [bell.cause, ...sounding];
}

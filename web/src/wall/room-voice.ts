import { spokenBell } from '../sound/spoken-bell.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';
import type { Session } from '../state/session.svelte.ts';
import { wallWords } from '../words/wall-words.ts';

/** What this wall says after a bell's burst, or after a test's (null); nothing unless the salon wants it (W4). */
export function roomVoice(
  session: Pick<Session, 'mirror' | 'contextOf'>,
): (standing: StandingBell | null) => string | null {
  return (standing) => {
    const { mirror } = session;
    if (!mirror.salon.room.spoken) return null;
    const words = wallWords();
    if (standing === null) return words.spokenBells.test;
    const { visit } = standing;
    const chair = visit?.chair ?? standing.chair;
    return spokenBell(standing, chair === null ? null : mirror.labelOf(chair), session.contextOf(visit), words);
  };
}

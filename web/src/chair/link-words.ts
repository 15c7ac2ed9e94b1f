import type { Session } from '../state/session.svelte.ts';
import type { Words } from '../words/words.ts';

/** Past this a server that says something every two seconds has missed two: the numbers are no longer sure. */
export const SILENT_AFTER_MS = 5_000;

export interface LinkWords {
  readonly text: string;
  readonly fault: boolean;
}

type Line = Pick<Session, 'silentForMs' | 'clock'> & { readonly link: Pick<Session['link'], 'phase' | 'keptAt'> };

/** The state of the line in words: how long ago the server was heard, or the fault. */
export function linkWords(line: Line, w: Words): LinkWords {
  const { link, silentForMs } = line;
  const seconds = Math.max(0, Math.floor((silentForMs ?? 0) / 1000));
  const ago = seconds < 120 ? w.units.seconds(seconds) : w.units.minutes(Math.floor(seconds / 60));
  switch (link.phase) {
    case 'waiting':
      if (link.keptAt !== null) return { text: w.link.kept(line.clock(link.keptAt)), fault: true };
      return { text: w.link.waiting, fault: false };
    case 'refused':
      return { text: w.link.refused, fault: true };
    case 'again':
      return { text: w.link.again, fault: false };
    case 'lost':
      return { text: w.link.lost(ago), fault: true };
    case 'linked':
      return (silentForMs ?? 0) >= SILENT_AFTER_MS
        ? { text: w.link.silent(ago), fault: true }
        : { text: w.link.linked(seconds), fault: false };
    default:
      return link.phase satisfies never;
  }
}

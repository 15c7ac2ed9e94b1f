import type { EpochMs } from '../../../core/time.ts';
import type { Words } from '../words/words.ts';
import { isLinked, soundSaid } from './can-be-rung.ts';
import type { LineKind, Told } from './ring-lines.ts';

interface At {
  readonly name: string | null;
  /** Null unless they are away, or muted, so long. */
  readonly awayUntilAt: EpochMs | null;
  readonly mutedUntilAt: EpochMs | null;
  readonly clock: (at: EpochMs) => string;
}

/** One line of "Can I be rung?" in words. */
export function lineWords(line: LineKind, told: Told, at: At, w: Words): string {
  const { rung } = w.pocket;
  switch (line) {
    case 'shift':
      return shiftLine(told, at, w);
    case 'sound':
      return rung.sound[soundSaid(told)];
    case 'muted':
      return told.mutedForMs === null || at.mutedUntilAt === null
        ? rung.muted.no
        : rung.muted.yes(w.units.seconds(Math.ceil(told.mutedForMs / 1_000)), at.clock(at.mutedUntilAt));
    case 'server':
      return linkLine(told, w);
    case 'seen-as':
      return rung.seenAs[told.seenAs ?? 'no'];
    case 'awake':
      return rung.awake[told.awake];
    case 'buzz':
      return told.vibrates ? rung.buzz.on : rung.buzz.absent;
    case 'notices':
      return rung.notices[told.notices];
    case 'push':
      return rung.push[told.push];
    case 'alone':
      return rung.opensAlone[told.opensAlone];
    default:
      return line satisfies never;
  }
}

function shiftLine({ person, shift }: Told, { name, awayUntilAt, clock }: At, w: Words): string {
  const { rung } = w.pocket;
  if (person === null || name === null) return rung.nobody;
  if (shift === 'off') return rung.offShift(name);
  return shift === 'away' && awayUntilAt !== null ? rung.awayShift(name, clock(awayUntilAt)) : rung.person(name);
}

function linkLine(told: Told, w: Words): string {
  const { link } = w.pocket.rung;
  if (told.silentForMs === null) return link.never;
  const ago = w.units.seconds(Math.floor(told.silentForMs / 1_000));
  return isLinked(told) ? link.heard(ago) : link.lost(ago);
}

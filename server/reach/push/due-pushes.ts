import type { Bell } from '../../../core/bells/bell.ts';
import { audienceOf } from '../../../core/bells/circles.ts';
import { rankOf, type BellLevel } from '../../../core/bells/level.ts';
import type { BellMeant } from '../../../core/bells/receipts.ts';
import { soundingOf } from '../../../core/bells/sounding.ts';
import { standingOn, type Rung, type Standing } from '../../../core/bells/subject.ts';
import type { Floor } from '../../../core/floor.ts';
import type { DeviceId, PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';

/** A bell that stands, and for whom it rings now. */
export interface StandingBell {
  /** The same from the bell's ring to its end: subject, cause and episode. */
  readonly key: string;
  readonly meant: BellMeant;
  readonly bell: Bell;
  readonly visit: VisitFacts | null;
  /** Since when it rings for each of them: it grows as the bell rises, is carried on, or rings again after a taking. */
  readonly rings: readonly { readonly person: PersonId; readonly roundAt: EpochMs }[];
}

/** A device that was sent a bell: the latest round of it, and its notification's tag. */
export interface SentTo {
  readonly device: DeviceId;
  readonly roundAt: EpochMs;
  readonly level: BellLevel;
  readonly tag: string;
}

export interface SentBell {
  readonly standing: StandingBell;
  readonly to: readonly SentTo[];
}

export type PushStep =
  | {
      readonly do: 'ring';
      readonly standing: StandingBell;
      readonly device: DeviceId;
      readonly person: PersonId;
      readonly roundAt: EpochMs;
      readonly replaces: string | null;
    }
  | { readonly do: 'end'; readonly standing: StandingBell; readonly device: DeviceId; readonly tag: string };

export interface PushScene {
  readonly bells: readonly StandingBell[];
  /** What was sent of bells so far, by their keys. */
  readonly sent: ReadonlyMap<string, SentBell>;
  readonly devices: readonly { readonly device: DeviceId; readonly person: PersonId }[];
  /** Whether that device rings at this moment by a page of its own. */
  readonly ringsByPage: (person: PersonId, device: DeviceId) => boolean;
}

/** Every bell that stands, with those for whom it rings. */
export function standingBells(floor: Floor, now: EpochMs): StandingBell[] {
  return standingOn(floor).map((one) => standing(one, floor, now));
}

function standing({ bell, rung, visit, chair }: Standing, floor: Floor, now: EpochMs): StandingBell {
  const { owner, acts } = rung;
  const { cause, episode, level } = bell;
  // A bell whose deed is being done rings nobody (R3).
  const asked = rung.underWay.includes(cause) ? [] : audienceOf(bell, owner, floor.people, now);
  const rings = asked.flatMap((person) => {
    const since = ringsSince(bell, person, acts, now);
    return since === null ? [] : [{ person, roundAt: Math.max(since, bell.circleAt) }];
  });
  return {
    key: JSON.stringify([visit, chair, cause, episode]),
    meant: { visit, chair, cause, episode, level },
    bell,
    visit: visit === null ? null : (floor.visits[visit]?.facts ?? null),
    rings,
  };
}

/** The one NOTICE that is pushed is the pre-bell: a push that is slow has come by the time it is due (R7). */
function ringsSince(bell: Bell, person: PersonId, acts: Rung['acts'], now: EpochMs): EpochMs | null {
  if (bell.kind === 'soon') return bell.taken === null ? bell.levelAt : null;
  return soundingOf(bell, person, acts, now)?.sinceAt ?? null;
}

/**
 * What is to be pushed now. Asked at each change and every few seconds, for a phone may be locked while a bell rings; asked again
 * after that was done it says nothing.
 */
export function duePushes({ bells, sent, devices, ringsByPage }: PushScene): PushStep[] {
  const steps: PushStep[] = [];
  for (const standing of bells) {
    const to = sent.get(standing.key)?.to ?? [];
    for (const { person, roundAt } of standing.rings) {
      for (const { device } of devices.filter((one) => one.person === person)) {
        const before = to.find((one) => one.device === device);
        if (before !== undefined && !newer(standing, roundAt, before)) continue;
        // DANGER is everyone's, by every way there is.
        if (standing.bell.level !== 'DANGER' && ringsByPage(person, device)) continue;
        steps.push({ do: 'ring', standing, device, person, roundAt, replaces: before?.tag ?? null });
      }
    }
  }
  const stands = new Set(bells.map(({ key }) => key));
  for (const [key, { standing, to }] of sent) {
    if (stands.has(key)) continue;
    for (const { device, tag } of to) steps.push({ do: 'end', standing, device, tag });
  }
  return steps;
}

function newer({ bell }: StandingBell, roundAt: EpochMs, before: SentTo): boolean {
  return roundAt > before.roundAt || rankOf(bell.level) > rankOf(before.level);
}

import type { PersonId, PlaceNumber } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { isBellStep, isMove, type VisitEvent, type VisitEventType } from '../../../core/visit/events.ts';
import type { Stage } from '../../../core/visit/stages/stage.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { RecordedOfVisit } from '../../../shared/wire.ts';

/** One thing that was done at a head, as it stands after corrections. */
export interface Moment {
  readonly version: number;
  readonly type: VisitEventType;
  readonly at: EpochMs;
  readonly by: PersonId | null;
  /** When it was first said to have been, if its time was corrected since. */
  readonly wasAt: EpochMs | null;
  readonly takenBack: boolean;
  /** Its time can be corrected (X1). */
  readonly movable: boolean;
  /** What it was about: the part (counted from 1), the basin, the stage it led to, the strip that was read. */
  readonly part: number | null;
  readonly basin: PlaceNumber | null;
  readonly strip: number | null;
  readonly to: Stage | null;
  readonly indicator: 'colourless' | 'coloured' | null;
  /** What was said, where it says more than its kind: prep, helpers, strand tests, heat, limits. */
  readonly said: Said | null;
}

/** Said within a stage, with more to it than that it was said. */
export type Said = Extract<VisitEvent, { type: (typeof saying)[number] }>;

const plain = { part: null, basin: null, strip: null, indicator: null, to: null, said: null } as const;

const saying = [
  'PrepSaid',
  'HelperJoined',
  'HelperLeft',
  'StrandTested',
  'HeatSet',
  'LimitsSet',
] as const satisfies readonly VisitEventType[];

function isSaid(event: VisitEvent): event is Said {
  return (saying as readonly string[]).includes(event.type);
}

function about(event: VisitEvent): Pick<Moment, 'part' | 'basin' | 'strip' | 'indicator' | 'to' | 'said'> {
  if (event.type === 'PartMarkedDone') return { ...plain, part: event.part + 1 };
  if (event.type === 'RinseBegun' || event.type === 'BasinNamed') return { ...plain, basin: event.basin };
  if (event.type === 'ShampooMarked') return { ...plain, strip: event.strip, indicator: event.indicator };
  if (event.type === 'MovedOn') return { ...plain, to: event.to };
  return isSaid(event) ? { ...plain, said: event } : plain;
}

/** What was done, newest first; steps of bells are no acts, corrections and take-backs are told at what they changed. */
export function momentsOf(events: readonly RecordedOfVisit[]): readonly Moment[] {
  const moments: Moment[] = [];
  for (const { event, version, at, by } of events) {
    if (isBellStep(event)) continue;
    if (event.type === 'TimeCorrected') change(moments, event.of, (one) => moved(one, event.was, event.to));
    else if (event.type === 'MoveTakenBack') {
      for (const back of event.versions) change(moments, back, (one) => ({ ...one, takenBack: true, movable: false }));
    } else {
      moments.push({
        version,
        type: event.type,
        at,
        by,
        wasAt: null,
        takenBack: false,
        movable: isMove(event),
        ...about(event),
      });
    }
  }
  return moments.reverse();
}

function change(moments: Moment[], version: number, to: (one: Moment) => Moment): void {
  const index = moments.findIndex((one) => one.version === version);
  const one = moments[index];
  if (one !== undefined) moments[index] = to(one);
}

function moved(one: Moment, was: EpochMs, to: EpochMs): Moment {
  return { ...one, at: to, wasAt: one.wasAt ?? was };
}

/** The little that the facts alone tell, while the record cannot be fetched: how it came to each stage. */
const ledTo = {
  prep: 'VisitSeated',
  apply: 'ApplicationBegun',
  process: 'ApplicationFinished',
  rinse: 'RinseBegun',
  neutralize: 'MovedOn',
  condition: 'MovedOn',
  dry: 'MovedOn',
  finished: 'VisitEnded',
} as const satisfies Record<VisitFacts['stage'], VisitEventType>;

export function momentsOfWay(visit: VisitFacts): readonly Moment[] {
  return visit.way
    .map(({ stage, version, at, by }) => ({
      version,
      type: ledTo[stage],
      at,
      by,
      wasAt: null,
      takenBack: false,
      movable: true,
      ...plain,
    }))
    .reverse();
}

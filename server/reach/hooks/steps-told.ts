import type { Bell, BellCause, BellKind, Circle } from '../../../core/bells/bell.ts';
import { bellLevels, type BellLevel } from '../../../core/bells/level.ts';
import { visitOf, type FloorBellEvent, type Recorded, type Stream } from '../../../core/events.ts';
import type { Floor } from '../../../core/floor.ts';
import type { PlaceNumber } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { VisitEvent } from '../../../core/visit/events.ts';
import { wordKey } from '../../../core/words.ts';
import type { HookStep, LevelCounts } from '../../../shared/hooks.ts';

/** A chair, or with `chair` null the whole floor. */
export interface Subject {
  readonly chair: PlaceNumber | null;
  readonly label: string | null;
}

/** What is told of the bell that a step belongs to. */
interface BellTold {
  readonly kind: BellKind;
  readonly level: BellLevel;
  readonly episode: number;
  readonly circle: Circle;
  readonly dueAt: EpochMs;
  readonly rungAt: EpochMs;
}

/** One step of one bell, without anybody's name. Instants on the timescale. */
export interface StepTold {
  readonly step: HookStep;
  readonly at: EpochMs;
  readonly why: string | null;
  readonly cause: BellCause;
  readonly subject: Subject;
  /** Null where the bell is not known any more. */
  readonly bell: BellTold | null;
}

/** The floor before and after the events: a bell that ended is known to the first only. */
export interface Floors {
  readonly before: Floor;
  readonly after: Floor;
}

type VisitBellEvent = Extract<VisitEvent, { readonly type: `Bell${string}` }>;
type BellEvent = VisitBellEvent | FloorBellEvent;

/** Whom a bell was shown to is nothing for a lamp; everything else is. */
const stepOf: Readonly<Partial<Record<string, HookStep>>> = {
  BellRung: 'rung',
  BellWidened: 'widened',
  BellTaken: 'taken',
  BellPassed: 'passed',
  BellNotReached: 'not_reached',
  BellEnded: 'ended',
};

/** The steps of bells among the events of one turn, in their order. */
export function stepsTold(events: readonly Recorded[], { before, after }: Floors): StepTold[] {
  const known = new Map<string, BellTold>();
  const told: StepTold[] = [];
  for (const recorded of events) {
    const step = stepOf[recorded.event.type.replace(/^Floor/, '')];
    if (step === undefined) continue;
    const event = recorded.event as BellEvent;
    const chair = chairOf(recorded.stream, event, { before, after });
    const key = `${recorded.stream} ${chair} ${event.cause}`;
    const bell = bellAfter(event, recorded.at, known.get(key) ?? standing(recorded.stream, event, before));
    if (bell !== null) known.set(key, bell);
    const why = 'why' in event ? event.why : null;
    const label = chair === null ? null : (after.words[wordKey.place(chair)] ?? null);
    told.push({ step, at: recorded.at, why, cause: event.cause, subject: { chair, label }, bell });
  }
  return told;
}

/** The bell as this step leaves it. */
function bellAfter(event: BellEvent, at: EpochMs, known: BellTold | null): BellTold | null {
  if (event.type === 'BellRung' || event.type === 'FloorBellRung') {
    const { kind, level, episode, dueAt, circle } = event;
    return { kind, level, episode, circle, dueAt, rungAt: at };
  }
  if (known === null) return null;
  return event.type === 'BellWidened' || event.type === 'FloorBellWidened' ? { ...known, circle: event.circle } : known;
}

function standing(stream: Stream, event: BellEvent, before: Floor): BellTold | null {
  const bells = bellsOf(stream, event, before);
  return bells.find(({ cause }) => cause === event.cause) ?? null;
}

function bellsOf(stream: Stream, event: BellEvent, floor: Floor): readonly Bell[] {
  const visit = visitOf(stream);
  if (visit !== null) return floor.visits[visit]?.facts.bells ?? [];
  const chair = 'chair' in event ? event.chair : null;
  return chair === null ? floor.floorBells.bells : (floor.places[chair]?.bells ?? []);
}

function chairOf(stream: Stream, event: BellEvent, { before, after }: Floors): PlaceNumber | null {
  const visit = visitOf(stream);
  if (visit === null) return 'chair' in event ? event.chair : null;
  return (after.visits[visit] ?? before.visits[visit])?.facts.chair ?? null;
}

/** Bells that stand on the whole floor, by level. */
export function bellCounts(floor: Floor): { readonly standing: LevelCounts; readonly untaken: LevelCounts } {
  const bells = [
    ...Object.values(floor.visits).flatMap(({ facts }) => facts.bells),
    ...Object.values(floor.places).flatMap((place) => place.bells),
    ...floor.floorBells.bells,
  ];
  return { standing: countsOf(bells), untaken: countsOf(bells.filter(({ taken }) => taken === null)) };
}

function countsOf(bells: readonly Bell[]): LevelCounts {
  const counts = Object.fromEntries(bellLevels.map((level) => [level, 0])) as Record<BellLevel, number>;
  for (const { level } of bells) counts[level] += 1;
  return counts;
}

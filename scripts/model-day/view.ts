import type { PlaceNumber } from '../../core/ids.ts';
import { latest, type EpochMs } from '../../core/time.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import type { Snapshot } from '../../shared/wire.ts';
import { modelOf } from './opening.ts';

export interface ChairView {
  readonly number: PlaceNumber;
  /** Who sits there now. */
  readonly visit: VisitFacts | null;
  /** Null where nobody has sat yet. */
  readonly freeSince: EpochMs | null;
  /** How many models we have seated there. */
  readonly models: number;
}

/** The floor as somebody who works there sees it: facts of the snapshot, nothing else. */
export interface View {
  readonly now: EpochMs;
  readonly revision: number;
  /** When the salon was set up: the day began then. */
  readonly openedAt: EpochMs;
  readonly chairs: readonly ChairView[];
  readonly basins: readonly PlaceNumber[];
  /** Basins in use, by a head that is there. */
  readonly busy: ReadonlySet<PlaceNumber>;
  readonly visits: readonly VisitFacts[];
}

/** `before`: the last look, because the server forgets visits long finished and their names must not come again. */
export function viewOf({ now, revision, entities }: Snapshot, before: View | null): View {
  const all = Object.values(entities);
  const visits = all.flatMap((one) => (one.kind === 'visit' ? [one.facts] : []));
  const places = all.flatMap((one) => (one.kind === 'place' ? [one.facts] : [])).sort((a, b) => a.number - b.number);
  const salon = all.find((one) => one.kind === 'salon');
  return {
    now,
    revision,
    openedAt: (salon?.kind === 'salon' ? salon.facts.setUpAt : null) ?? now,
    chairs: places.filter((one) => one.kind === 'chair').map(({ number }) => chairView(number, visits, before)),
    basins: places.filter((one) => one.kind === 'basin').map(({ number }) => number),
    busy: new Set(visits.flatMap((visit) => basinOf(visit) ?? [])),
    visits,
  };
}

function chairView(number: PlaceNumber, visits: readonly VisitFacts[], before: View | null): ChairView {
  const was = before?.chairs.find((chair) => chair.number === number) ?? null;
  const here = visits.filter((visit) => visit.chair === number);
  const ends = here.filter((one) => one.stage === 'finished').map((one) => one.way[one.way.length - 1]?.at ?? null);
  // By id: a model that was moved to another chair still counts where it was seated.
  const ours = visits.map((visit) => modelOf(visit.id)).filter((model) => model?.chair === number);
  return {
    number,
    visit: here.find((visit) => visit.stage !== 'finished') ?? null,
    freeSince: latest(was?.freeSince ?? null, ...ends),
    models: Math.max(was?.models ?? 0, ...ours.map((model) => model?.model ?? 0)),
  };
}

/** The basin a head has for itself from its water until what is washed out there is over. */
export function basinOf(visit: VisitFacts): PlaceNumber | null {
  if (visit.stage !== 'rinse' && visit.stage !== 'neutralize' && visit.stage !== 'condition') return null;
  const pass = visit.passes[visit.pass];
  return (pass?.neutralizerWater ?? pass?.water)?.basin ?? null;
}

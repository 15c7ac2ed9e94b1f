import type { PersonId, PlaceNumber } from '../../core/ids.ts';
import { currentPass, type VisitFacts } from '../../core/visit/visit.ts';
import { sooner, wholeSecondAfter, type Act, type Scene } from './act.ts';
import { DAY_SO_FAR, seatedBefore, visitId } from './opening.ts';
import { assistant, studentAt } from './salon.ts';
import { nextIn } from './stages.ts';
import { asking, takeBell } from './to-the-water.ts';
import { basinOf, type ChairView, type View } from './view.ts';
import { temperOf } from './whims.ts';

/**
 * What is done next at each chair, from the seed and the floor's facts alone. Whatever somebody who looks in does
 * meanwhile is a fact like any other, and the day goes on from there.
 */
export function plan(view: View, seed: number): readonly Act[] {
  const acts: Act[] = [];
  const claimed = new Set(view.busy);
  for (const chair of view.chairs) {
    const own = chair.visit === null ? null : basinOf(chair.visit);
    const basinFor = own ?? view.basins.find((basin) => !claimed.has(basin)) ?? null;
    const act = chair.visit === null ? seatNext(view, chair, seed) : nextAt(view, chair.visit, basinFor, seed);
    if (act === null) continue;
    const basin = act.at <= view.now ? basinClaimed(act) : null;
    if (basin !== null) claimed.add(basin);
    acts.push(act);
  }
  const left = view.visits.filter((visit) => visit.stage === 'finished');
  return [...acts, ...left.flatMap((visit) => nextAt(view, visit, null, seed) ?? [])];
}

function basinClaimed({ command }: Act): PlaceNumber | null {
  return command.type === 'BeginRinse' || command.type === 'NameBasin' ? command.basin : null;
}

function seatNext(view: View, chair: ChairView, seed: number): Act | null {
  const id = visitId(chair.number, chair.models + 1);
  const { service, label, pauseMs } = temperOf(seed, id);
  const before = seatedBefore(chair.number);
  const first = view.openedAt + DAY_SO_FAR - (before ?? 0);
  const at = wholeSecondAfter(chair.freeSince === null ? first : chair.freeSince + pauseMs);
  const stylist = studentAt(chair.number);
  // What a command creates carries its id (S8).
  return {
    at,
    id,
    by: stylist,
    seen: null,
    command: { type: 'SeatVisit', chair: chair.number, service, stylist, label },
  };
}

function nextAt(view: View, visit: VisitFacts, freeBasin: PlaceNumber | null, seed: number): Act | null {
  const student = visit.stylist ?? studentAt(visit.chair);
  const others = view.visits.filter((one) => one.id !== visit.id && one.stylist === student);
  const applying = others.some((one) => one.stage === 'apply');
  // Who sat down first is begun first.
  const before = others.some((one) => one.stage === 'prep' && one.seatedAt < visit.seatedAt);
  const temper = temperOf(seed, visit.id);
  const scene: Scene = {
    now: view.now,
    temper,
    hands: applying ? assistant : student,
    mayBegin: !applying && !before,
    mayHelp: !view.visits.some((one) => helps(one, temper.taker)),
    freeBasin,
  };
  const deed = nextIn[visit.stage](visit, scene);
  return sooner(deed, takeBell(visit, asking(visit, 'long-stage'), scene));
}

/** Whether somebody is the second pair of hands at this head (P0). */
function helps(visit: VisitFacts, person: PersonId): boolean {
  const hands = visit.stage === 'apply' ? (currentPass(visit)?.hands ?? []) : [];
  return hands.slice(1).some((one) => one.by === person && one.untilAt === null);
}

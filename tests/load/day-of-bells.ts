import { heardAs } from '../../core/bells/hearing.ts';
import type { Ear } from '../../core/bells/sounding.ts';
import type { Recorded } from '../../core/events.ts';
import type { PersonId } from '../../core/ids.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import type { Act } from '../../scripts/model-day/act.ts';
import { takeTurn } from '../../scripts/model-day/hour.ts';
import { Players } from '../../scripts/model-day/players.ts';
import { people, settingUp } from '../../scripts/model-day/salon.ts';
import { FloorByHand } from '../scripts/model-day/floor-by-hand.ts';
import { standingOn } from '../../core/bells/subject.ts';

/** A bell began to sound for somebody: a new one, the next row of one, or one whose taking ran out. */
export interface Heard {
  readonly ear: Ear;
  readonly at: EpochMs;
  readonly level: string;
  /** Subject and cause: what would chatter. */
  readonly source: string;
}

export interface DayOfBells {
  readonly heard: readonly Heard[];
  readonly log: readonly Recorded[];
  readonly fromAt: EpochMs;
  readonly toAt: EpochMs;
  /** Visits that came to their end. */
  readonly ended: ReadonlySet<string>;
}

/** Two more students work at the chairs past the eighth: nobody looks after more than two. */
const more = ['person-bertil', 'person-imke'] as const;

/** Whoever works on a day of so many chairs. */
export const staffOf = (chairs: number): readonly PersonId[] => [
  ...people.map(({ id }) => id),
  ...(chairs > 8 ? more : []),
];
/** Heads are looked at so often; a sound begins at whole seconds. */
const LOOK: Ms = 3 * SECOND;

/** A day of the teaching salon with so many chairs, everybody on shift with a phone that shows what asks them. */
export async function dayOfBells(seed: number, chairs: number, lengthMs: Ms): Promise<DayOfBells> {
  const floor = new FloorByHand(true);
  const players = new Players(floor.ask, seed);
  const log: Recorded[] = [];
  floor.engine.subscribe(({ events }) => log.push(...events));
  const staff = staffOf(chairs);
  await players.setUp([...settingUp('Europe/Berlin'), moreChairs(chairs), moreStudents(chairs), shifts(staff)]);
  const fromAt = floor.now;
  const ears = new Ears(floor, staff);
  let { view, acts } = await players.look();
  while (floor.now < fromAt + lengthMs) {
    const due = acts.filter((act) => act.at <= view.now).map(atItsStudent);
    await players.act(due);
    floor.confirmShown();
    ears.listen();
    if (due.length > 0) {
      ({ view, acts } = await players.look());
      continue;
    }
    floor.pass(Math.max(1, Math.min(LOOK, ...acts.map((act) => act.at - view.now))));
    ({ view, acts } = await players.lookAfter(await takeTurn(floor.ask)));
  }
  const ends = log.filter(
    ({ event }) => event.type === 'VisitEnded' || (event.type === 'MovedOn' && event.to === 'finished'),
  );
  const ended = new Set(ends.map(({ stream }) => stream.slice('visit/'.length)));
  return { heard: ears.heard, log, fromAt, toAt: floor.now, ended };
}

function moreChairs(chairs: number) {
  return Array.from({ length: Math.max(0, chairs - 8) }, (_, i) => {
    const command = { type: 'AddPlace', kind: 'chair', number: 9 + i, label: `${9 + i}` } as const;
    return { id: `model-day-chair-${9 + i}`, by: null, command };
  });
}

function moreStudents(chairs: number) {
  return (chairs > 8 ? more : []).map((id) => {
    const name = id.slice('person-'.length);
    return { id, by: null, command: { type: 'AddPerson', name, roles: ['stylist'] } as const };
  });
}

/** A model at one of the further chairs is seated by whoever works there. */
function atItsStudent(act: Act): Act {
  const { command } = act;
  if (command.type !== 'SeatVisit' || command.chair <= 8) return act;
  const stylist = more[command.chair % more.length] ?? more[0];
  return { ...act, by: stylist, command: { ...command, stylist } };
}

function shifts(staff: readonly PersonId[]) {
  return staff.map((person) => {
    return { id: `model-day-shift-${person}`, by: person, command: { type: 'BeginShift', person } as const };
  });
}

/** What each person's phone and the wall sound, as it begins. */
class Ears {
  readonly heard: Heard[] = [];
  readonly #floor: FloorByHand;
  readonly #staff: readonly PersonId[];
  #sounding = new Set<string>();

  constructor(floor: FloorByHand, staff: readonly PersonId[]) {
    this.#floor = floor;
    this.#staff = staff;
  }

  listen(): void {
    const { floor } = this.#floor.engine;
    const at = this.#floor.now;
    const now = new Set<string>();
    for (const { bell, rung, visit, chair } of standingOn(floor)) {
      const source = `${visit ?? chair ?? 'floor'}/${bell.cause}`;
      for (const ear of ['room' as const, ...this.#staff]) {
        const sounding = heardAs(bell, rung, ear, floor.people, at);
        if (sounding === null) continue;
        const again = bell.taken === null ? '' : sounding.sinceAt;
        const key = `${ear} ${source}/${bell.episode}/${bell.kind}/${bell.level}/${again}`;
        now.add(key);
        if (!this.#sounding.has(key)) this.heard.push({ ear, at, level: bell.level, source });
      }
    }
    this.#sounding = now;
  }
}

/** Sounds of one ear in clock-aligned buckets of ten minutes, empty ones included (an author's convention for floods). */
export function perTenMinutes({ heard, fromAt, toAt }: DayOfBells, ear: Ear): number[] {
  const length = 10 * MINUTE;
  const first = Math.floor(fromAt / length);
  const counts = Array.from({ length: Math.ceil(toAt / length) - first }, () => 0);
  for (const one of heard) {
    const bucket = Math.floor(one.at / length) - first;
    if (one.ear === ear) counts[bucket] = (counts[bucket] ?? 0) + 1;
  }
  return counts;
}

/** Three activations of one source within 60 s (operational rule), for any ear. */
export function chattering({ heard }: DayOfBells): readonly Heard[] {
  return heard.filter((one) => {
    const same = heard.filter((other) => other.ear === one.ear && other.source === one.source);
    return same.filter((other) => other.at <= one.at && other.at > one.at - MINUTE).length >= 3;
  });
}

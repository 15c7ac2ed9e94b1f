import { MINUTE, type Ms } from '../../../core/time.ts';
import type { Chance } from '../chance.ts';
import { pause } from '../pause.ts';
import type { Desk } from './desk.ts';

/** Real ms between two commands of one hand. */
const BREATH = 4;
const PARTS = 4;

/** Seats one client after another at a chair and sees each through to the end, with no moment in which nothing is sent. */
export async function playChair(chair: number, desk: Desk, chance: Chance): Promise<void> {
  while (!desk.over) {
    const label = chance.pick([null, 'first', 'second']);
    const stylist = chance.pick([null, 'person-ama']);
    const seated = await desk.say({ type: 'SeatVisit', chair, service: 'service-1', stylist, label });
    const visit = String(seated.body['visit']);
    const wait = (ms: Ms): Promise<void> => fill(visit, ms, desk);
    await wait(chance.whole(1, 4) * MINUTE);
    await desk.say({ type: 'BeginApplication', chair, visit, service: null });
    for (let part = 0; part < PARTS; part++) {
      await wait(chance.whole(2, 4) * MINUTE);
      await desk.say({ type: 'MarkPartDone', visit, part });
    }
    await wait(chance.whole(9, 18) * MINUTE);
    await toTheEnd(visit, chair, desk, chance, wait);
  }
}

async function toTheEnd(
  visit: string,
  chair: number,
  desk: Desk,
  chance: Chance,
  wait: (ms: Ms) => Promise<void>,
): Promise<void> {
  const basin = chance.pick([91, 92, null]);
  await desk.say({ type: 'BeginRinse', chair, visit, basin });
  if (basin === null) {
    await wait(2 * MINUTE);
    await desk.say({ type: 'NameBasin', visit, basin: 91 });
  }
  await wait(chance.whole(5, 7) * MINUTE);
  await desk.say({ type: 'ClearAndOff', visit });
  for (let shampoo = 0; shampoo < 2; shampoo++) {
    await wait(chance.whole(2, 4) * MINUTE);
    await desk.say({ type: 'MarkShampoo', visit, indicator: 'colourless', strip: null });
  }
  await desk.say({ type: 'MoveOn', visit, to: 'condition' });
  await wait(4 * MINUTE);
  await desk.say({ type: 'MoveOn', visit, to: 'dry' });
  await wait(2 * MINUTE);
  await desk.say({ type: 'MoveOn', visit, to: 'finished' });
}

/** Simulated time passes at the chair; small things are said meanwhile. */
async function fill(visit: string, ms: Ms, desk: Desk): Promise<void> {
  const end = desk.now + ms;
  for (let n = 0; desk.now < end && !desk.over; n++) {
    if (n % 2 === 0) await desk.say({ type: 'WriteLabel', visit, label: `n${n}` });
    else await desk.say({ type: 'NameStylist', visit, stylist: n % 4 === 1 ? 'person-ama' : null });
    await pause(BREATH);
  }
}

/** Somebody answers bells: whatever stands untaken is taken, at once or at the next look. */
export async function takeBells(desk: Desk): Promise<void> {
  while (!desk.over) {
    const floor = await desk.floor();
    for (const entity of Object.values(floor?.entities ?? {})) {
      if (entity.kind !== 'visit') continue;
      for (const { cause, taken } of entity.facts.bells) {
        if (taken === null) await desk.say({ type: 'TakeBell', visit: entity.facts.id, cause }, 'person-joss');
      }
    }
    await pause(10 * BREATH);
  }
}

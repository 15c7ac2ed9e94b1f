import { nextTestAt } from '../../core/exposure/strand-tests.ts';
import { windowOf } from '../../core/exposure/window.ts';
import { SECOND } from '../../core/time.ts';
import { currentPass, type Pass, type VisitFacts } from '../../core/visit/visit.ts';
import { actOn, earliestOf, wholeSecondAfter, type Act, type Scene } from './act.ts';
import { asking, offTheHair, takeBell } from './to-the-water.ts';

/** The hood is set over the head so long after the last touch. */
const HOOD = 40 * SECOND;

/** Product is on: heat where the directions allow it, strand tests when they are due, and then to the water. */
export function processing(visit: VisitFacts, scene: Scene): Act | null {
  const pass = currentPass(visit);
  const tested = pass === null ? null : test(visit, pass, scene);
  const warmed = pass === null ? null : heat(visit, pass, scene);
  return earliestOf(warmed, tested, offTheHair(visit, scene));
}

function heat(visit: VisitFacts, pass: Pass, { hands }: Scene): Act | null {
  const { rules, applied } = pass;
  if (rules === null || rules.heat === 'never' || applied === null || pass.heat !== null) return null;
  return actOn(visit, applied.at + HOOD, hands, { type: 'SetHeat', visit: visit.id, on: true });
}

/**
 * A strand is tested a little after its test is due, the part done first and the one done last in turn (E6). Hair is ready
 * somewhere about its window, as this model's temper has it; where there is no room it never is in time.
 */
function test(visit: VisitFacts, pass: Pass, scene: Scene): Act | null {
  const { temper, now } = scene;
  const window = windowOf(pass, now);
  const dueAt = window === null ? null : nextTestAt(pass, window.closesAt);
  if (window === null || dueAt === null || asking(visit, 'off') !== null) return null;
  const at = wholeSecondAfter(dueAt + temper.testMoreMs);
  const isReady = window.roomMs > 0 && at >= window.opensAt + temper.readyShare * window.roomMs;
  const place = pass.tests.length % 2 === 0 ? 'first' : 'last';
  const bell = asking(visit, 'test');
  const act = actOn(visit, at, bell?.taken?.by ?? scene.hands, {
    type: 'TestStrand',
    visit: visit.id,
    place,
    result: isReady ? 'ready' : 'not-yet',
    part: pass.rules?.manner === 'by-part' ? partAt(pass, place) : null,
    note: null,
  });
  return earliestOf(act, takeBell(visit, bell, scene));
}

/** Foils come off one by one, so a strand speaks for its part (E6). */
function partAt({ parts }: Pass, place: 'first' | 'last'): number {
  return (place === 'first' ? parts[0] : parts[parts.length - 1])?.part ?? 0;
}

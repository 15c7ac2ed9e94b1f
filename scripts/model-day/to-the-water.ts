import { takenFor, type Bell, type BellCause } from '../../core/bells/bell.ts';
import { windowOf } from '../../core/exposure/window.ts';
import { MINUTE, SECOND, type EpochMs } from '../../core/time.ts';
import { currentPass, stageBegan, type VisitFacts } from '../../core/visit/visit.ts';
import { actOn, type Act, type Scene } from './act.ts';

/** With no room left whoever goes is there so long before the close; and nobody who is in time is later. */
const JUST_BEFORE = 15 * SECOND;
const UNNAMED = 10 * MINUTE;

interface Span {
  readonly opensAt: EpochMs;
  readonly closesAt: EpochMs;
}

/** The bell of a cause that asks somebody to come; a NOTICE asks nobody. */
export function asking(visit: VisitFacts, cause: BellCause): Bell | null {
  return visit.bells.find((bell) => bell.cause === cause && bell.level !== 'NOTICE') ?? null;
}

/** "I'll go": some seconds after it begins to sound, and again when the first taking has run out (R3). */
export function takeBell(visit: VisitFacts, bell: Bell | null, { temper }: Scene): Act | null {
  if (bell === null) return null;
  const soundsAt = bell.taken === null ? bell.levelAt : bell.taken.at + takenFor[bell.level];
  const command = { type: 'TakeBell', chair: null, visit: visit.id, cause: bell.cause } as const;
  return actOn(visit, soundsAt + temper.takeMs, temper.taker, command);
}

/** "Can't": said once; then it is others who are asked (R3). */
export function passBell(visit: VisitFacts, bell: Bell | null, { temper }: Scene): Act | null {
  if (bell === null || bell.taken !== null || bell.passed.includes(temper.taker)) return null;
  const command = { type: 'PassBell', chair: null, visit: visit.id, cause: bell.cause } as const;
  return actOn(visit, bell.levelAt + temper.takeMs, temper.taker, command);
}

/** When water goes on: somewhere in the window, sooner once somebody has taken the bell, rarely late. */
export function waterAt({ opensAt, closesAt }: Span, bell: Bell | null, { temper }: Scene): EpochMs {
  if (temper.lateMs > 0) return closesAt + temper.lateMs;
  const room = closesAt - opensAt;
  const wish = room > 0 ? opensAt + temper.share * room : closesAt;
  const taken = bell?.taken ?? null;
  const going = taken === null ? wish : Math.max(opensAt, taken.at + temper.goMs);
  return Math.min(wish, going, closesAt - JUST_BEFORE);
}

/** Water on at a free basin. With none free whoever is in time waits for one; past the close water is found elsewhere. */
export function waterOn(visit: VisitFacts, span: Span, bell: Bell | null, scene: Scene): Act | null {
  const at = waterAt(span, bell, scene);
  const { freeBasin: basin, now } = scene;
  if (basin === null && at <= now && now < span.closesAt) return null;
  const by = bell?.taken?.by ?? scene.hands;
  return actOn(visit, at, by, { type: 'BeginRinse', chair: visit.chair, visit: visit.id, basin });
}

/** Product is on and waits for its window; null while the window is not certain yet. */
export function offTheHair(visit: VisitFacts, scene: Scene): Act | null {
  const pass = currentPass(visit);
  const window = pass === null ? null : windowOf(pass, scene.now);
  const bell = asking(visit, 'off');
  if (window === null) {
    // A product that nobody named, put on by somebody who looks in.
    const command = { type: 'BeginRinse', chair: visit.chair, visit: visit.id, basin: scene.freeBasin } as const;
    return actOn(visit, stageBegan(visit) + UNNAMED, scene.hands, command);
  }
  const take = takeBell(visit, bell, scene);
  const water = waterOn(visit, window, bell, scene);
  return take !== null && (water === null || take.at < water.at) ? take : water;
}

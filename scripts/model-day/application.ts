import { inWork } from '../../core/exposure/parts.ts';
import { expectedFinishAt } from '../../core/exposure/pace.ts';
import { certainClose, latestFinish } from '../../core/exposure/window.ts';
import { defaultFigures } from '../../core/salon/salon.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import { currentPass, stageBegan, type Hands, type Pass, type VisitFacts } from '../../core/visit/visit.ts';
import { actOn, earliestOf, type Act, type Scene } from './act.ts';
import { asking, offTheHair, passBell, takeBell, waterOn } from './to-the-water.ts';

/** A helper goes so long after finishing a part, once the head is in time again. */
const GOES_AFTER = 15 * SECOND;
/** Between passes: the next product is mixed and put on. */
const NEXT_PASS = 2 * MINUTE;

/** Prep is said to be complete, and a little later the first touch comes. */
export function prep(visit: VisitFacts, scene: Scene): Act | null {
  const { temper, hands, mayBegin } = scene;
  const bell = takeBell(visit, asking(visit, 'begun?'), scene);
  if (!mayBegin) return bell;
  const prepMs = visit.pass === 0 ? temper.prepMs : NEXT_PASS;
  if (visit.prepared === null) {
    const at = stageBegan(visit) + Math.max(0, prepMs - temper.readyMs);
    return actOn(visit, at, hands, { type: 'SayPrep', visit: visit.id, complete: true });
  }
  const service = visit.service ?? temper.service;
  const begin = { type: 'BeginApplication', chair: visit.chair, visit: visit.id, service } as const;
  return earliestOf(actOn(visit, stageBegan(visit) + prepMs, hands, begin), bell);
}

/** Part by part, each pair of hands at its own pace; the last ends the application (S3). Nobody goes on past the close. */
export function apply(visit: VisitFacts, scene: Scene): Act | null {
  const pass = currentPass(visit);
  if (pass === null || pass.rules === null || pass.begun === null) return offTheHair(visit, scene);
  const close = certainClose(pass);
  const water = close === null ? null : waterOn(visit, { opensAt: close, closesAt: close }, null, scene);
  const off = takeBell(visit, asking(visit, 'off'), scene);
  return earliestOf(
    ...marks(visit, pass, scene),
    helper(visit, pass, scene),
    water,
    off,
    answerPace(visit, pass, scene),
  );
}

/** "I'll go" from somebody who has hands to lend; from anybody else "can't", and the bell goes on to the next. */
function answerPace(visit: VisitFacts, pass: Pass, scene: Scene): Act | null {
  if (pass.hands.slice(1).some((one) => one.untilAt === null)) return null;
  const bell = asking(visit, 'pace');
  const { helps } = scene.temper;
  return helps && scene.mayHelp ? takeBell(visit, bell, scene) : passBell(visit, bell, scene);
}

function marks(visit: VisitFacts, pass: Pass, scene: Scene): Act[] {
  const { pace } = scene.temper;
  return inWork(pass).map(({ hands, part }) => {
    const share = pass.rules?.parts[part]?.share ?? 0;
    const takes = share * (pass.rules?.nominalMs ?? 0) * (pace[part % pace.length] ?? 1);
    const by = hands === pass.hands[0] ? (visit.stylist ?? scene.hands) : hands.by;
    return actOn(visit, hands.freeAt + takes, by, { type: 'MarkPartDone', visit: visit.id, part });
  });
}

/** Whoever took the pace bell joins, does at least one part, and goes once the head is in time without them (P0, P4). */
function helper(visit: VisitFacts, pass: Pass, scene: Scene): Act | null {
  const helping = pass.hands.slice(1);
  const there = helping.find((one) => one.untilAt === null);
  if (there !== undefined) return goes(visit, pass, there, scene);
  const taken = asking(visit, 'pace')?.taken ?? null;
  if (taken === null || helping.length > 0 || !scene.temper.helps || !scene.mayHelp) return null;
  const command = { type: 'JoinAsHelper', visit: visit.id, person: taken.by } as const;
  return actOn(visit, taken.at + scene.temper.goMs, taken.by, command);
}

function goes(visit: VisitFacts, pass: Pass, one: Hands, { now }: Scene): Act | null {
  if (one.freeAt <= one.fromAt || asking(visit, 'pace') !== null) return null;
  const without = { ...pass, hands: pass.hands.map((other) => (other === one ? { ...one, untilAt: now } : other)) };
  const latest = latestFinish(pass, defaultFigures);
  const alone = expectedFinishAt(without, now);
  if (latest === null || alone === null || alone > latest - MINUTE) return null;
  return actOn(visit, one.freeAt + GOES_AFTER, one.by, { type: 'LeaveAsHelper', visit: visit.id, person: one.by });
}

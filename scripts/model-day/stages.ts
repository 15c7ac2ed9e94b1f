import { minimumAt, neutralizeStep, neutralizerWindow, shampoosWanted } from '../../core/exposure/finishing.ts';
import type { NeutralizerStep, ShampooStep } from '../../core/directions/rules.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import type { MoveOnTarget } from '../../core/visit/commands/command.ts';
import { nextStep } from '../../core/visit/stages/leaving.ts';
import type { Stage } from '../../core/visit/stages/stage.ts';
import { currentPass, stageBegan, type Pass, type VisitFacts } from '../../core/visit/visit.ts';
import { actOn, sooner, type Act, type Scene } from './act.ts';
import { apply, prep } from './application.ts';
import { processing } from './processing.ts';
import { asking, takeBell, waterAt, waterOn } from './to-the-water.ts';

type Next = (visit: VisitFacts, scene: Scene) => Act | null;

/** Rods come out so long before the water; from shampoo to the next step. */
const RODS = 50 * SECOND;
const TO_THE_NEXT = 20 * SECOND;

const rinse: Next = (visit, scene) => {
  const { burns } = visit;
  if (burns !== null && burns.closed === null) return burning(visit, scene);
  const water = currentPass(visit)?.water ?? null;
  if (water !== null && water.basin === null && scene.freeBasin !== null) {
    return actOn(visit, scene.now, scene.hands, { type: 'NameBasin', visit: visit.id, basin: scene.freeBasin });
  }
  const least = minimumAt(visit) ?? stageBegan(visit) + 5 * MINUTE;
  const by = water?.by ?? scene.hands;
  const clear = actOn(visit, least + scene.temper.rinseMoreMs, by, { type: 'ClearAndOff', visit: visit.id });
  const asked = visit.bells.find((bell) => bell.cause === 'water-on?');
  if (asked === undefined || water === null || water.basin === null) return clear;
  // "Is the water really on?" is answered by saying where.
  const name = { type: 'NameBasin', visit: visit.id, basin: water.basin } as const;
  return sooner(clear, actOn(visit, asked.levelAt + scene.temper.takeMs, by, name));
};

/** Only somebody who looks in presses "burns" on a model day; the instructor answers it as on any other day (S6). */
const burning: Next = (visit, scene) => {
  const { burns } = visit;
  if (burns === null) return null;
  const take = takeBell(
    visit,
    visit.bells.find((bell) => bell.cause === 'burns' && bell.taken === null) ?? null,
    scene,
  );
  const { chair, id } = visit;
  if (burns.waterAt === null) {
    const water = { type: 'BeginRinse', chair, visit: id, basin: scene.freeBasin } as const;
    return sooner(take, actOn(visit, burns.at + 30 * SECOND, scene.temper.taker, water));
  }
  const eye = burns.place === 'eye';
  const command = { type: 'CloseBurns', visit: id, done: eye ? 'physician' : 'advice-sought' } as const;
  return sooner(take, actOn(visit, burns.waterAt + (eye ? 16 : 5) * MINUTE, scene.temper.taker, command));
};

const neutralize: Next = (visit, scene) => {
  const pass = currentPass(visit);
  const step = pass === null ? null : neutralizeStep(pass);
  if (pass === null || step === null) return moveOn(visit, scene, stageBegan(visit) + TO_THE_NEXT);
  return step.kind === 'shampoos' ? shampoo(visit, pass, step, scene) : neutralizer(visit, pass, step, scene);
};

function shampoo(visit: VisitFacts, pass: Pass, step: ShampooStep, scene: Scene): Act | null {
  const done = pass.shampoos.length;
  const least = minimumAt(visit);
  if (done >= shampoosWanted(pass, step) || least === null) {
    return moveOn(visit, scene, (pass.shampoos[done - 1]?.at ?? stageBegan(visit)) + TO_THE_NEXT);
  }
  const couldBeLast = done + 1 >= step.count;
  const coloured = !couldBeLast || (done + 1 === step.count && scene.temper.lastLatherColoured);
  const indicator = coloured ? 'coloured' : 'colourless';
  const command = { type: 'MarkShampoo', visit: visit.id, indicator, strip: null } as const;
  return actOn(visit, least + scene.temper.dwellMoreMs, scene.hands, command);
}

function neutralizer(visit: VisitFacts, pass: Pass, step: NeutralizerStep, scene: Scene): Act | null {
  const { temper, hands } = scene;
  if (pass.neutralizerWater !== null) {
    const at = pass.neutralizerWater.at + step.rinseMs + temper.rinseMoreMs;
    return actOn(visit, at, hands, { type: 'ClearAndOff', visit: visit.id });
  }
  const window = neutralizerWindow(pass);
  if (window === null) {
    return actOn(visit, stageBegan(visit) + temper.neutralizerMs, hands, { type: 'PutNeutralizerOn', visit: visit.id });
  }
  const bell = asking(visit, 'neutralizer');
  const inTime: Scene = { ...scene, temper: { ...temper, lateMs: 0 } };
  const take = takeBell(visit, bell, inTime);
  if (step.rods && pass.rodsOut === null) {
    const at = Math.max(window.opensAt, waterAt(window, bell, inTime) - RODS);
    return sooner(take, actOn(visit, at, hands, { type: 'TakeRodsOut', visit: visit.id }));
  }
  const water = waterOn(visit, window, bell, inTime);
  return take !== null && (water === null || take.at < water.at) ? take : water;
}

const condition: Next = (visit, scene) =>
  moveOn(visit, scene, (minimumAt(visit) ?? stageBegan(visit)) + scene.temper.dwellMoreMs);

const dry: Next = (visit, scene) => moveOn(visit, scene, stageBegan(visit) + scene.temper.dryMs);

/** Stages that "done, next" can name. */
const named = {
  prep: 'prep',
  neutralize: 'neutralize',
  condition: 'condition',
  dry: 'dry',
  finished: 'finished',
  apply: null,
  process: null,
  rinse: null,
} as const satisfies Record<Stage, MoveOnTarget | null>;

function moveOn(visit: VisitFacts, { hands }: Scene, at: number): Act | null {
  const to = named[nextStep(visit).stage];
  return to === null ? null : actOn(visit, at, hands, { type: 'MoveOn', visit: visit.id, to });
}

/** A visit that left with product on is settled by a person; any other finished one wants nothing. */
const finished: Next = (visit, { temper }) => {
  if (visit.end !== 'abandoned-with-product' || visit.settled !== null) return null;
  return actOn(visit, stageBegan(visit) + MINUTE, temper.taker, { type: 'SettleAbandoned', visit: visit.id });
};

/** What happens next in each stage. Pure: facts, a temper and now. */
export const nextIn = {
  prep,
  apply,
  process: processing,
  rinse,
  neutralize,
  condition,
  dry,
  finished,
} as const satisfies Record<Stage, Next>;

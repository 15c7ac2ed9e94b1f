import type { VisitCommand } from '../../../core/visit/commands/command.ts';
import type { MoveOnTarget } from '../../../core/visit/commands/command.ts';
import { neutralizeStep, shampoosWanted } from '../../../core/exposure/finishing.ts';
import type { PartPlace, ShampooStep } from '../../../core/directions/rules.ts';
import { openParts } from '../../../core/exposure/parts.ts';
import type { PlaceNumber, ServiceId } from '../../../core/ids.ts';
import { nextStep } from '../../../core/visit/stages/leaving.ts';
import { currentPass, type Pass, type VisitFacts } from '../../../core/visit/visit.ts';
import type { BasinOnFloor } from '../state/floor-mirror.svelte.ts';
import { basinsFor } from './basins-for.ts';

type CommandOf<T extends VisitCommand['type']> = Extract<VisitCommand, { type: T }>;

/** One touch: what it is called and what it sends. The words for it are the catalogue's. */
export type Act =
  /** Prep is complete, or not yet after all. */
  | { readonly name: 'say-prep'; readonly complete: boolean; readonly command: CommandOf<'SayPrep'> }
  | { readonly name: 'begin'; readonly service: ServiceId; readonly command: CommandOf<'BeginApplication'> }
  | {
      readonly name: 'part-done';
      /** Counted from 1. */
      readonly part: number;
      readonly of: number;
      readonly place: PartPlace;
      readonly command: CommandOf<'MarkPartDone'>;
    }
  | { readonly name: 'all-on'; readonly command: CommandOf<'FinishApplication'> }
  | { readonly name: 'water-on'; readonly basin: PlaceNumber | null; readonly command: CommandOf<'BeginRinse'> }
  | { readonly name: 'name-basin'; readonly basin: PlaceNumber; readonly command: CommandOf<'NameBasin'> }
  | { readonly name: 'clear-and-off'; readonly command: CommandOf<'ClearAndOff'> }
  | {
      readonly name: 'shampoo';
      readonly shampoo: number;
      readonly of: number;
      /** How the end of it is shown: two touches to choose from, a strip to read first, or one touch. */
      readonly proof: 'colourless' | 'coloured' | 'strip' | 'count';
      readonly command: CommandOf<'MarkShampoo'>;
    }
  | { readonly name: 'neutralizer-on'; readonly command: CommandOf<'PutNeutralizerOn'> }
  | { readonly name: 'rods-out'; readonly command: CommandOf<'TakeRodsOut'> }
  | { readonly name: 'move-on'; readonly to: MoveOnTarget; readonly command: CommandOf<'MoveOn'> }
  | { readonly name: 'settle'; readonly command: CommandOf<'SettleAbandoned'> };

export interface NextActs {
  /** The one thing to do; two where the lather is said with it; none where a choice must be made first. */
  readonly main: readonly Act[];
  /** One touch away. */
  readonly beside: readonly Act[];
}

/** What the next touch at a chair depends on. */
export interface AtChair {
  readonly chair: PlaceNumber;
  readonly visit: VisitFacts | null;
  readonly usualService: ServiceId | null;
  readonly basins: readonly BasinOnFloor[];
}

const none: NextActs = { main: [], beside: [] };

/** The next touch at a chair, from the facts alone: what pressing the main button does, and what else is near. */
export function nextActs(at: AtChair): NextActs {
  const { visit } = at;
  if (visit === null) return begin(at, at.usualService);
  if (visit.burns !== null && visit.burns.closed === null && visit.stage !== 'finished') {
    // Nothing of the service goes on before a person says what was done (S6).
    return visit.burns.waterAt === null ? water(at) : { main: [], beside: basinsToName(at, visit) };
  }
  const pass = currentPass(visit);
  switch (visit.stage) {
    case 'prep': {
      const { main } = begin(at, visit.service ?? at.usualService);
      return { main, beside: [sayPrep(visit)] };
    }
    case 'apply':
      return applying(at, visit, pass);
    case 'process':
      return water(at);
    case 'rinse':
      return pass?.water === null ? water(at) : rinsing(at, visit);
    case 'neutralize':
      return neutralizing(at, visit, pass);
    case 'condition':
    case 'dry':
      return onward(visit);
    case 'finished':
      return left(visit);
    default:
      return visit.stage satisfies never;
  }
}

/** "Water on" with no basin said: the touch that is there in every stage and at an empty chair (S2). */
export function plainWater({ chair, visit }: AtChair): Act {
  return waterAt(chair, visit, null);
}

function waterAt(chair: PlaceNumber, visit: VisitFacts | null, basin: PlaceNumber | null): Act {
  return { name: 'water-on', basin, command: { type: 'BeginRinse', chair, visit: visit?.id ?? null, basin } };
}

function begin({ chair, visit }: AtChair, service: ServiceId | null): NextActs {
  if (service === null) return none;
  const command = {
    type: 'BeginApplication',
    chair,
    visit: visit?.id ?? null,
    service: (visit?.service ?? null) === null ? service : null,
  } as const;
  return { main: [{ name: 'begin', service, command }], beside: [] };
}

function sayPrep(visit: VisitFacts): Act {
  const complete = visit.prepared === null;
  return { name: 'say-prep', complete, command: { type: 'SayPrep', visit: visit.id, complete } };
}

/** A part is done; its index is sent, so that a touch that comes twice marks one part only. */
export function partDone(visit: VisitFacts, part: number): Extract<Act, { name: 'part-done' }> {
  const parts = currentPass(visit)?.rules?.parts ?? [];
  return {
    name: 'part-done',
    part: part + 1,
    of: parts.length,
    place: parts[part]?.place ?? 'other',
    command: { type: 'MarkPartDone', visit: visit.id, part },
  };
}

function applying(at: AtChair, visit: VisitFacts, pass: Pass | null): NextActs {
  const allOn: Act = { name: 'all-on', command: { type: 'FinishApplication', visit: visit.id } };
  const [next] = pass === null ? [] : openParts(pass);
  const done = next === undefined ? [] : [partDone(visit, next)];
  const rinseStands = visit.bells.some((bell) => bell.cause === 'off' && bell.kind !== 'soon');
  // A relaxer that burns comes off: while it is not said what the tingling was, water is what the main button does (S6).
  const tingles = visit.tingles !== null && visit.tingles.answered === null && pass?.rules?.class === 'hydroxide';
  if (rinseStands || tingles) {
    const { main, beside } = water(at);
    return { main, beside: [...beside, ...done, allOn] };
  }
  return done.length > 0 ? { main: done, beside: [allOn] } : { main: [allOn], beside: [] };
}

function water({ chair, visit, basins }: AtChair): NextActs {
  const ordered = basinsFor(visit, basins);
  const [first] = ordered;
  // Where every basin is in use none is proposed: the water may be on before its basin is said.
  const proposed = first !== undefined && first.free ? first.basin.number : null;
  const others = ordered.filter(({ basin }) => basin.number !== proposed);
  return {
    main: [waterAt(chair, visit, proposed)],
    beside: others.map(({ basin }) => waterAt(chair, visit, basin.number)),
  };
}

function basinsToName({ basins }: AtChair, visit: VisitFacts): Act[] {
  const pass = currentPass(visit);
  const flowing = (visit.stage === 'neutralize' ? pass?.neutralizerWater : pass?.water) ?? null;
  // Asked whether it is on at all, a basin already named answers too.
  const asked = visit.bells.some((bell) => bell.cause === 'water-on?');
  if (flowing === null || (flowing.basin !== null && !asked)) return [];
  return basinsFor(visit, basins).map(({ basin }) => ({
    name: 'name-basin',
    basin: basin.number,
    command: { type: 'NameBasin', visit: visit.id, basin: basin.number },
  }));
}

function rinsing(at: AtChair, visit: VisitFacts): NextActs {
  const clear: Act = { name: 'clear-and-off', command: { type: 'ClearAndOff', visit: visit.id } };
  return { main: [clear], beside: basinsToName(at, visit) };
}

function neutralizing(at: AtChair, visit: VisitFacts, pass: Pass | null): NextActs {
  const step = pass === null ? null : neutralizeStep(pass);
  if (pass === null || step === null) return onward(visit);
  if (step.kind === 'shampoos') {
    const of = shampoosWanted(pass, step);
    if (visit.bells.some((bell) => bell.cause === 'back-to-rinse')) {
      // Two more shampoos did not help (S5): back to the water, or the next one shows that it is clear.
      const { main, beside } = water(at);
      return { main, beside: [...beside, ...shampoos(visit, pass, step, of).main] };
    }
    return pass.shampoos.length >= of ? onward(visit) : shampoos(visit, pass, step, of);
  }
  const rods: Act[] =
    step.rods && pass.rodsOut === null && pass.neutralizerOn !== null
      ? [{ name: 'rods-out', command: { type: 'TakeRodsOut', visit: visit.id } }]
      : [];
  if (pass.neutralizerWater !== null) {
    const { main, beside } = rinsing(at, visit);
    return { main, beside: [...beside, ...rods] };
  }
  if (pass.neutralizerOn === null) {
    return { main: [{ name: 'neutralizer-on', command: { type: 'PutNeutralizerOn', visit: visit.id } }], beside: [] };
  }
  const { main, beside } = water(at);
  return { main, beside: [...beside, ...rods] };
}

function shampoos(visit: VisitFacts, pass: Pass, step: ShampooStep, of: number): NextActs {
  const shampoo = pass.shampoos.length + 1;
  const one = (proof: 'colourless' | 'coloured' | 'strip' | 'count'): Act => {
    const indicator = proof === 'colourless' || proof === 'coloured' ? proof : null;
    return {
      name: 'shampoo',
      shampoo,
      of,
      proof,
      command: { type: 'MarkShampoo', visit: visit.id, indicator, strip: null },
    };
  };
  return { main: step.proof === 'indicator' ? [one('colourless'), one('coloured')] : [one(step.proof)], beside: [] };
}

/** On to the step that follows; a next product waits in its own prep. */
function onward(visit: VisitFacts): NextActs {
  const { stage } = nextStep(visit);
  switch (stage) {
    case 'prep':
    case 'neutralize':
    case 'condition':
    case 'dry':
    case 'finished':
      return {
        main: [{ name: 'move-on', to: stage, command: { type: 'MoveOn', visit: visit.id, to: stage } }],
        beside: [],
      };
    case 'apply':
    case 'process':
    case 'rinse':
      return none;
    default:
      return stage satisfies never;
  }
}

function left(visit: VisitFacts): NextActs {
  if (visit.end !== 'abandoned-with-product' || visit.settled !== null) return none;
  return { main: [{ name: 'settle', command: { type: 'SettleAbandoned', visit: visit.id } }], beside: [] };
}

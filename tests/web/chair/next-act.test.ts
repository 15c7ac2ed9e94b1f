import { describe, expect, it } from 'vitest';
import type { Rules } from '../../../core/directions/rules.ts';
import { nextActs, plainWater, type Act, type NextActs } from '../../../web/src/chair/next-act.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

const CHAIR = 4;

/** A floor worked only by what the main button says, so that each stage is reached as a person reaches it. */
class Worked {
  readonly life: FloorLife;

  constructor(rules?: Rules) {
    this.life = FloorLife.salon(rules);
    this.life.do({ type: 'ChooseUsualService', service: 'service-1' });
  }

  get acts(): NextActs {
    const { mirror } = new StagedSession(this.life);
    const visit = mirror.chairs.find((chair) => chair.number === CHAIR)?.visit ?? null;
    return nextActs({ chair: CHAIR, visit, usualService: mirror.salon.usualService, basins: mirror.basins });
  }

  get visit() {
    const { mirror } = new StagedSession(this.life);
    return mirror.chairs.find((chair) => chair.number === CHAIR)?.visit ?? null;
  }

  touch(act: Act | undefined = this.acts.main[0]): this {
    if (act === undefined) throw new Error('nothing to touch');
    this.life.do(act.command, { seen: this.visit?.version ?? null });
    return this;
  }

  times(n: number, minutes: number): this {
    for (let i = 0; i < n; i += 1) this.touch().life.pass(minutes);
    return this;
  }
}

const names = (acts: readonly Act[]): string[] => acts.map(({ name }) => name);
const basins = (acts: readonly Act[]): (number | null)[] =>
  acts.flatMap((act) => (act.name === 'water-on' || act.name === 'name-basin' ? [act.basin] : []));

describe('the next act at a chair', () => {
  it('[S9] at an empty chair begins the usual service, and seats with it', () => {
    const worked = new Worked();
    expect(worked.acts.main).toEqual([
      {
        name: 'begin',
        service: 'service-1',
        command: { type: 'BeginApplication', chair: CHAIR, visit: null, service: 'service-1' },
      },
    ]);
    worked.touch();
    expect(worked.visit?.stage).toBe('apply');
  });

  it('[S9] proposes nothing at an empty chair of a salon without a usual service', () => {
    const life = FloorLife.salon();
    const { mirror } = new StagedSession(life);
    const at = { chair: CHAIR, visit: null, usualService: null, basins: mirror.basins };
    expect(nextActs(at)).toEqual({ main: [], beside: [] });
    expect(plainWater(at).command).toEqual({ type: 'BeginRinse', chair: CHAIR, visit: null, basin: null });
  });

  it('[S1] in prep begins what was chosen', () => {
    const worked = new Worked();
    worked.life.do({ type: 'SeatVisit', chair: CHAIR, service: 'service-1', stylist: null, label: null });
    expect(worked.acts.main[0]).toMatchObject({ name: 'begin', command: { service: null, visit: worked.visit?.id } });
  });

  it('[S3] in apply marks the parts one after the other, each by its own number', () => {
    const worked = new Worked().touch();
    const seen: unknown[] = [];
    while (worked.visit?.stage === 'apply') {
      const [act] = worked.acts.main;
      seen.push(act?.name === 'part-done' ? [act.part, act.of, act.command.part] : act?.name);
      expect(names(worked.acts.beside)).toEqual(['all-on']);
      worked.life.pass(3);
      worked.touch();
    }
    expect(seen).toEqual([
      [1, 4, 0],
      [2, 4, 1],
      [3, 4, 2],
      [4, 4, 3],
    ]);
    expect(worked.visit?.stage).toBe('process');
  });

  it('[S3] a part done out of its order is not asked for again', () => {
    const worked = new Worked().touch();
    worked.life.do({ type: 'MarkPartDone', visit: worked.visit?.id ?? '', part: 0 });
    worked.life.do({ type: 'MarkPartDone', visit: worked.visit?.id ?? '', part: 2 });
    expect(worked.acts.main[0]).toMatchObject({ name: 'part-done', part: 2 });
  });

  it('[V1] in apply water is next from the instant at which rinse rings, and the parts stay near', () => {
    const worked = new Worked().touch();
    worked.life.pass(26.9);
    expect(names(worked.acts.main)).toEqual(['part-done']);
    worked.life.pass(0.1);
    expect(names(worked.acts.main)).toEqual(['water-on']);
    expect(names(worked.acts.beside)).toEqual(['water-on', 'part-done', 'all-on']);
  });

  it('[V1] in apply a colour without a ceiling never asks for water by itself', () => {
    const worked = new Worked(colour()).touch();
    worked.life.pass(90);
    expect(names(worked.acts.main)).toEqual(['part-done']);
  });

  it('[S2] in process water goes on at the first free basin, the others one touch away', () => {
    const worked = new Worked().times(5, 3);
    expect(worked.visit?.stage).toBe('process');
    expect(basins(worked.acts.main)).toEqual([91]);
    expect(basins(worked.acts.beside)).toEqual([92]);
    const other = worked.life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    expect(basins(worked.acts.main)).toEqual([92]);
    expect(basins(worked.acts.beside)).toEqual([91]);
    worked.life.do({ type: 'BeginRinse', chair: 2, visit: null, basin: 92 });
    expect(basins(worked.acts.main)).toEqual([null]);
    expect(basins(worked.acts.beside)).toEqual([91, 92]);
    expect(worked.life.facts(other).stage).toBe('rinse');
  });

  it('[S4] in rinse it is clear and off, with the basins while none is named', () => {
    const worked = new Worked().times(5, 3);
    worked.touch(plainWater({ chair: CHAIR, visit: worked.visit, usualService: null, basins: [] }));
    expect(names(worked.acts.main)).toEqual(['clear-and-off']);
    expect(worked.acts.beside.map(({ name }) => name)).toEqual(['name-basin', 'name-basin']);
    worked.touch(worked.acts.beside[1]);
    expect(worked.visit?.passes[0]?.water?.basin).toBe(92);
    expect(worked.acts.beside).toEqual([]);
  });
});

describe('the next act in the finishing steps', () => {
  const toNeutralize = (rules?: Rules): Worked => {
    const worked = new Worked(rules).times(5, 3).touch();
    worked.life.pass(6);
    return worked.touch();
  };
  const shampoo = (proof: 'indicator' | 'strip' | 'count', stripLimit: number | null = null) =>
    relaxer({ finishing: [{ kind: 'shampoos', count: 2, dwellMs: 60_000, proof, stripLimit }] });

  it('[S1] a shampoo is marked with what its lather showed', () => {
    const worked = toNeutralize();
    expect(
      worked.acts.main.map((act) => act.name === 'shampoo' && [act.shampoo, act.of, act.command.indicator]),
    ).toEqual([
      [1, 2, 'colourless'],
      [1, 2, 'coloured'],
    ]);
  });

  it('[S5] a coloured lather at the last asks for one more', () => {
    const worked = toNeutralize();
    worked.touch(worked.acts.main[0]).touch(worked.acts.main[1]);
    expect(worked.acts.main[0]).toMatchObject({ name: 'shampoo', shampoo: 3, of: 3 });
    worked.touch(worked.acts.main[0]);
    expect(worked.acts.main[0]).toMatchObject({ name: 'move-on', to: 'condition' });
  });

  it('[S1] a strip is read first, a mere count is one touch', () => {
    expect(toNeutralize(shampoo('strip', 5.5)).acts.main).toMatchObject([{ name: 'shampoo', proof: 'strip' }]);
    expect(toNeutralize(shampoo('count')).acts.main).toMatchObject([
      { name: 'shampoo', proof: 'count', command: { indicator: null, strip: null } },
    ]);
  });

  it('[S1] a neutralizer goes on, is rinsed at the basin of this head, and its rods come out', () => {
    const worked = toNeutralize(perm());
    expect(names(worked.acts.main)).toEqual(['neutralizer-on']);
    expect(worked.acts.beside).toEqual([]);
    worked.touch().life.pass(6);
    expect(basins(worked.acts.main)).toEqual([91]);
    expect(names(worked.acts.beside)).toEqual(['water-on', 'rods-out']);
    worked.touch();
    expect(worked.visit?.stage).toBe('neutralize');
    expect(names(worked.acts.main)).toEqual(['clear-and-off']);
    expect(names(worked.acts.beside)).toEqual(['rods-out']);
    worked.touch(worked.acts.beside[0]);
    expect(worked.acts.beside).toEqual([]);
    worked.touch();
    expect(worked.visit?.stage).toBe('condition');
  });

  it('[S1] condition leads to dry, dry to finished, and the chair is free again', () => {
    const worked = toNeutralize(colour());
    expect(worked.visit?.stage).toBe('condition');
    expect(worked.acts.main[0]).toMatchObject({ name: 'move-on', to: 'dry' });
    worked.touch();
    expect(worked.acts.main[0]).toMatchObject({ name: 'move-on', to: 'finished' });
    worked.touch();
    expect(worked.visit).toBeNull();
    expect(names(worked.acts.main)).toEqual(['begin']);
  });
});

describe('the next act apart from the way', () => {
  it('[S6] burns want water, then nothing of the service until a person closes them', () => {
    const worked = new Worked().times(5, 3);
    worked.life.do({ type: 'ReportBurns', chair: CHAIR, visit: worked.visit?.id ?? '', place: 'skin' });
    expect(names(worked.acts.main)).toEqual(['water-on']);
    worked.touch();
    expect(worked.acts).toEqual({ main: [], beside: [] });
    worked.life.do({ type: 'CloseBurns', visit: worked.visit?.id ?? '', done: 'eased' });
    expect(names(worked.acts.main)).toEqual(['clear-and-off']);
  });

  it('[S6] burns under water at no known basin still ask which it is', () => {
    const worked = new Worked();
    worked.life.do({ type: 'ReportBurns', chair: CHAIR, visit: null, place: 'eye' });
    worked.life.do({ type: 'BeginRinse', chair: CHAIR, visit: worked.visit?.id ?? '', basin: null });
    expect(worked.acts.main).toEqual([]);
    expect(names(worked.acts.beside)).toEqual(['name-basin', 'name-basin']);
  });

  it('[X4] a client who left with product on is to be seen to', () => {
    const worked = new Worked().times(5, 3);
    worked.life.do({ type: 'Abandon', visit: worked.visit?.id ?? '' });
    expect(names(worked.acts.main)).toEqual(['settle']);
    worked.touch();
    expect(worked.visit).toBeNull();
  });

  it('[S10] after the first product the next one waits in its own prep', () => {
    const life = FloorLife.salon(colour({ finishing: [] }));
    life.do(
      { type: 'WriteService', service: null, name: 'Two', passes: ['directions-1', 'directions-1'], limits: [] },
      { id: 'service-2' },
    );
    life.do({ type: 'ChooseUsualService', service: 'service-2' });
    const worked = new Worked();
    Object.assign(worked, { life });
    worked.times(6, 3).touch();
    expect(worked.visit).toMatchObject({ stage: 'prep', pass: 1 });
    expect(names(worked.acts.main)).toEqual(['begin']);
    worked.touch();
    expect(worked.visit).toMatchObject({ stage: 'apply', pass: 1 });
  });
});

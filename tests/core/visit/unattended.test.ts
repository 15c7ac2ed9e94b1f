import { describe, expect, it } from 'vitest';
import { headline } from '../../../core/visit/headline.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const hours = (n: number): number => n * 60;

function left(): { life: FloorLife; visit: string } {
  const life = FloorLife.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  life.at(15).do({ type: 'FinishApplication', visit });
  return { life, visit };
}

const line = (life: FloorLife, visit: string) =>
  headline(life.facts(visit), { now: life.now, figures: life.floor.salon.figures, uncertain: false });

describe('a head that nobody has touched for six hours in a timed stage', () => {
  it('[T4] is asked about by one CAUTION, and nothing else of it rings', () => {
    const { life, visit } = left();
    life.at(hours(6) + 15 - 1 / 60);
    expect(life.bells(visit)).toEqual(['over DANGER #1']);
    life.at(hours(6) + 15);
    expect(life.bells(visit)).toEqual(['unattended CAUTION #1']);
    expect(line(life, visit)).toMatchObject({ deed: 'unattended', number: null });
    life.at(hours(30));
    expect(life.bells(visit)).toEqual(['unattended CAUTION #1']);
  });

  it('[T4] gone: the visit ends as unattended, its open steps not marked', () => {
    const { life, visit } = left();
    life.at(hours(7)).do({ type: 'AnswerUnattended', visit, there: false });
    const facts = life.facts(visit);
    expect(facts).toMatchObject({ stage: 'finished', end: 'unattended', bells: [] });
    expect(facts.owed.map(({ item }) => item)).toContain('not-marked');
  });

  it('[T4] still there: its bells stand again, and the question comes again six hours later', () => {
    const { life, visit } = left();
    life.at(hours(7)).do({ type: 'AnswerUnattended', visit, there: true });
    expect(life.bells(visit)).toEqual(['over DANGER #2']);
    life.at(hours(13));
    expect(life.bells(visit)).toEqual(['unattended CAUTION #2']);
  });

  it('[T4] is not asked about before, in prep or in dry', () => {
    const { life, visit } = left();
    life.at(hours(6));
    expect(life.send({ type: 'AnswerUnattended', visit, there: true })).toMatchObject({ code: 'wrong-stage' });
    const seated = life.do({ type: 'SeatVisit', chair: 3, service: 'service-1', stylist: null, label: null });
    life.at(hours(20));
    expect(life.bells(seated)).toEqual([]);
  });

  it('[S9, T4] the next client can be seated: nobody sits under a product left for hours', () => {
    const { life, visit } = left();
    life.at(hours(6));
    const next = { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null } as const;
    expect(life.send(next)).toMatchObject({ code: 'product-on' });
    life.at(hours(21)).do(next);
    expect(life.facts(visit)).toMatchObject({ stage: 'finished', end: 'unattended' });
  });

  it('[S6, T4] a burn stands all the same', () => {
    const { life, visit } = left();
    life.at(20).do({ type: 'ReportBurns', chair: 2, visit, place: 'skin' });
    life.at(hours(7));
    expect(life.bells(visit).sort()).toEqual(['burns DANGER #1', 'unattended CAUTION #1']);
  });
});

describe('words about a visit', () => {
  it('[X5] are erased all at once; what was done when stays', () => {
    const life = FloorLife.salon();
    const seat = { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: 'window' } as const;
    const visit = life.do(seat);
    const other = life.do({ ...seat, chair: 3, label: 'door' });
    life.do({ type: 'EraseWords', visit });
    const kept = Object.entries(life.floor.words).filter(([key]) => key.startsWith('visit/'));
    expect(kept).toEqual([[`visit/${other}/label`, 'door']]);
    expect(life.facts(visit)).toMatchObject({ stage: 'prep', seatedAt: NOON });
    expect(life.log.at(-1)?.event).toEqual({ type: 'WordsErased' });
    expect(life.send({ type: 'EraseWords', visit: 'visit-nowhere' })).toMatchObject({ code: 'unknown-visit' });
  });
});

describe('what a device did while it was away', () => {
  it('[X3] is kept as a statement also of a visit that somebody has ended meanwhile', () => {
    const { life, visit } = left();
    const offline = { happenedAt: life.now };
    life.at(20).do({ type: 'ClearAndOff', visit });
    life.do({ type: 'MoveOn', visit, to: 'finished' });
    const events = life.log.length;
    expect(life.send({ type: 'MarkPartDone', visit, part: 0 }, offline)).toMatchObject({ code: 'moved-on' });
    expect(life.log.slice(events).map(({ event }) => event)).toEqual([
      { type: 'StatementKept', command: 'MarkPartDone' },
    ]);
    expect(life.send({ type: 'MarkPartDone', visit, part: 0 })).toMatchObject({ code: 'moved-on' });
    expect(life.log).toHaveLength(events + 1);
  });
});

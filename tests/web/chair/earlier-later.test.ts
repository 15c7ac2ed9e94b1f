import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { chairOf } from '../../../web/src/chair/chair-address.ts';
import { chairAxis, markX, stageSpans } from '../../../web/src/chair/chair-track.ts';
import { earlierMinutes } from '../../../web/src/chair/earlier.ts';
import { laterSteps } from '../../../web/src/chair/later-steps.ts';
import { particularsChanged } from '../../../web/src/chair/particulars.ts';
import { stepStrip } from '../../../web/src/chair/strip.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

function begun(): { life: FloorLife; visit: string } {
  const life = FloorLife.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
  return { life, visit };
}

describe('a touch that comes late', () => {
  it('[X4] can be said to be since 1, 2, 5 or 10 minutes, as far as the latest move allows', () => {
    const { life, visit } = begun();
    life.pass(5);
    expect(earlierMinutes(life.facts(visit), 'MarkPartDone', life.now)).toEqual([1, 2, 5]);
    expect(earlierMinutes(life.facts(visit), 'MarkPartDone', life.now - 1)).toEqual([1, 2]);
    expect(earlierMinutes(null, 'BeginApplication', life.now)).toEqual([1, 2, 5, 10]);
  });
  it('[X3] water on is never held to it', () => {
    const { life, visit } = begun();
    expect(earlierMinutes(life.facts(visit), 'BeginRinse', life.now)).toEqual([1, 2, 5, 10]);
    expect(earlierMinutes(life.facts(visit), 'MarkPartDone', life.now)).toEqual([]);
  });
});

describe('a later step', () => {
  it('[S4] with product on is only that it is off already', () => {
    const { life, visit } = begun();
    expect(laterSteps(life.facts(visit)).map(({ to }) => to)).toEqual(['off']);
    life.do({ type: 'FinishApplication', visit });
    expect(laterSteps(life.facts(visit)).map(({ to }) => to)).toEqual(['off']);
  });
  it('[S4] lies beyond the next one, and is never finished while product is on', () => {
    const { life, visit } = begun();
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    expect(laterSteps(life.facts(visit)).map(({ to }) => to)).toEqual(['condition', 'dry']);
    life.do({ type: 'ClearAndOff', visit });
    expect(laterSteps(life.facts(visit)).map(({ to }) => to)).toEqual(['dry', 'finished']);
  });
  it('[S4] is one that the rules accept', () => {
    const { life, visit } = begun();
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    for (const { command } of laterSteps(life.facts(visit)).slice(-1)) life.do(command);
    expect(life.facts(visit).stage).toBe('dry');
  });
  it('[S6] is none while burns are open, nor in prep, nor after the end', () => {
    const { life, visit } = begun();
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'eye' });
    expect(laterSteps(life.facts(visit))).toEqual([]);
    const other = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
    expect(laterSteps(life.facts(other))).toEqual([]);
    life.do({ type: 'Discard', visit: other });
    expect(laterSteps(life.facts(other))).toEqual([]);
  });
});

describe('small things at the chair', () => {
  it('the chair is named by the address', () => {
    expect(chairOf('/chair/4')).toBe(4);
    expect(chairOf('/chair/')).toBeNull();
    expect(chairOf('/chair/four')).toBeNull();
    expect(chairOf('/chair')).toBeNull();
  });
  it('only what changed is said of a client', () => {
    const had = { label: 'B.', service: 'service-1', stylist: null };
    expect(particularsChanged('visit-01', had, had)).toEqual([]);
    expect(particularsChanged('visit-01', had, { label: '', service: 'service-2', stylist: 'person-1' })).toEqual([
      { type: 'ChooseService', visit: 'visit-01', service: 'service-2' },
      { type: 'NameStylist', visit: 'visit-01', stylist: 'person-1' },
      { type: 'WriteLabel', visit: 'visit-01', label: null },
    ]);
  });
  it('a strip is read in half steps within the scale of pH', () => {
    expect(stepStrip(7, 1)).toBe(7.5);
    expect(stepStrip(7, -1)).toBe(6.5);
    expect(stepStrip(14, 1)).toBe(14);
    expect(stepStrip(0, -1)).toBe(0);
  });
  it('a mark off the axis is not drawn, and stages follow one another', () => {
    const axis = chairAxis(1200);
    expect(markX(axis, NOON, NOON)).toBe(8 * 24);
    expect(markX(axis, NOON - 9 * MINUTE, NOON)).toBeNull();
    expect(markX(axis, null, NOON)).toBeNull();
    const { life, visit } = begun();
    life.pass(3);
    life.do({ type: 'FinishApplication', visit });
    expect(stageSpans(life.facts(visit))).toEqual([
      { stage: 'prep', fromAt: NOON, untilAt: NOON },
      { stage: 'apply', fromAt: NOON, untilAt: NOON + 3 * MINUTE },
      { stage: 'process', fromAt: NOON + 3 * MINUTE, untilAt: null },
    ]);
  });
});

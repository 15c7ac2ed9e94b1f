import { describe, expect, it } from 'vitest';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { addService, min, saw } from '../../../support/pass-kit.ts';

function seated() {
  const life = FloorLife.salon();
  addService(life, 'service-2', [relaxer({ class: 'lightener', finishing: [] }), colour()]);
  const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: 'B.' });
  return { life, v };
}

describe('the service', () => {
  const choose = (visit: string, service: string) => ({ type: 'ChooseService', visit, service }) as const;

  it('[S9] can be another while nothing is on the hair', () => {
    const { life, v } = seated();
    life.do(choose(v, 'service-2'));
    expect(life.facts(v)).toMatchObject({ service: 'service-2', passes: [{ rules: { class: 'lightener' } }, {}] });
  });

  it('[S9] not one that is not sold, and not from the first touch on, nor for a second pass', () => {
    const { life, v } = seated();
    expect(life.send(choose(v, 'service-x'))).toMatchObject({ code: 'unknown-service' });
    life.do(choose(v, 'service-2'));
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    expect(life.send(choose(v, 'service-1'))).toMatchObject({ code: 'wrong-stage' });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    expect(life.facts(v)).toMatchObject({ stage: 'prep', pass: 1 });
    expect(life.send(choose(v, 'service-1'))).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('stylist and label', () => {
  it('[S7] the stylist is somebody who works here, or nobody', () => {
    const { life, v } = seated();
    life.do({ type: 'NameStylist', visit: v, stylist: 'person-joss' });
    expect(life.facts(v).stylist).toBe('person-joss');
    life.do({ type: 'NameStylist', visit: v, stylist: null });
    expect(life.facts(v).stylist).toBeNull();
    expect(life.send({ type: 'NameStylist', visit: v, stylist: 'person-x' })).toMatchObject({ code: 'unknown-person' });
    life.do({ type: 'RetirePerson', person: 'person-joss' });
    expect(life.send({ type: 'NameStylist', visit: v, stylist: 'person-joss' })).toMatchObject({
      code: 'unknown-person',
    });
  });

  it('[S7] the label is a word kept aside, and can be erased', () => {
    const { life, v } = seated();
    life.do({ type: 'WriteLabel', visit: v, label: 'C. in green' });
    expect(life.floor.words[`visit/${v}/label`]).toBe('C. in green');
    expect(JSON.stringify(life.log)).not.toContain('green');
    life.do({ type: 'WriteLabel', visit: v, label: null });
    expect(life.floor.words).not.toHaveProperty([`visit/${v}/label`]);
  });
});

describe('a reason', () => {
  const give = (life: FloorLife, visit: string, item: 'not-marked' | 'rinse-short', note: string | null = null) =>
    life.send(
      {
        type: 'GiveReason',
        visit,
        version: life.facts(visit).owed[0]?.version ?? 0,
        item,
        reason: 'client-asked',
        note,
      },
      { by: 'person-ama' },
    );

  it('[S4] is given once for each step that is owed, its note kept aside', () => {
    const { life, v } = seated();
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    const version = life.facts(v).owed[0]?.version ?? 0;
    expect(give(life, v, 'rinse-short')).toMatchObject({ code: 'unknown-moment', visit: v });
    expect(give(life, v, 'not-marked', 'wanted it quick')).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).owed).toEqual([
      { item: 'not-marked', stage: 'process', pass: 0, version, reason: 'client-asked' },
    ]);
    expect(life.floor.words[`visit/${v}/note/${version}`]).toBe('wanted it quick');
    expect(
      life.at(22).send({ type: 'GiveReason', visit: v, version: 99, item: 'not-marked', reason: 'other', note: null }),
    ).toMatchObject({ code: 'unknown-moment' });
    expect(give(life, v, 'not-marked')).toMatchObject({
      code: 'already-done',
      since: [{ type: 'ReasonGiven', at: min(20), by: 'person-ama' }],
    });
  });

  it('[S4] also after the visit has ended; of a visit that is known', () => {
    const { life, v } = seated();
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    life.at(20).do({ type: 'ClearAndOff', visit: v });
    life.do({ type: 'MoveOn', visit: v, to: 'finished' }, saw(life, v));
    expect(give(life, v, 'not-marked')).toMatchObject({ outcome: 'done', visit: v });
    // Two steps skipped at once share their item; one reason answers for both.
    expect(
      life
        .facts(v)
        .owed.slice(0, 2)
        .map((one) => one.reason),
    ).toEqual(['client-asked', 'client-asked']);
    expect(life.facts(v).owed.at(-1)?.reason).toBeNull();
    const of = {
      type: 'GiveReason',
      visit: 'visit-x',
      version: 1,
      item: 'not-marked',
      reason: 'other',
      note: null,
    } as const;
    expect(life.send(of)).toMatchObject({ code: 'unknown-visit' });
  });
});

import { describe, expect, it } from 'vitest';
import type { VisitEventType } from '../../../core/visit/events.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min, saw } from '../../support/pass-kit.ts';

/** Version of the visit's first event of a type. */
const versionOf = (life: FloorLife, visit: string, type: VisitEventType): number =>
  life.floor.visits[visit]?.history.find((entry) => entry.event.type === type)?.version ?? -1;

const correct = (life: FloorLife, visit: string, type: VisitEventType, minutes: number, reason: string | null = null) =>
  life.send({ type: 'CorrectTime', visit, of: versionOf(life, visit, type), to: min(minutes), reason });

/** Seated at 0, begun at 5, finished at 20. */
function processing() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
  life.at(5).do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
  life.at(20).do({ type: 'FinishApplication', visit: v });
  return { life, v };
}

describe('correcting a moment', () => {
  it('[X1] moves the moment, and what hangs on it, the old value staying on record', () => {
    const { life, v } = processing();
    life.at(21);
    expect(correct(life, v, 'ApplicationFinished', 18)).toMatchObject({ outcome: 'done', visit: v });
    expect(life.facts(v).passes[0]?.applied?.at).toBe(min(18));
    expect(life.facts(v).way.at(-1)).toMatchObject({ stage: 'process', at: min(18) });
    expect(life.log.at(-1)).toMatchObject({
      at: min(21),
      event: { type: 'TimeCorrected', was: min(20), to: min(18), bought: false, reasoned: false },
    });
  });

  it('[X1] a move lies between the moves beside it, up to their very instants', () => {
    const { life, v } = processing();
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(27);
    expect(correct(life, v, 'ApplicationFinished', 5 - 1 / 60)).toMatchObject({ code: 'times-cross', field: 'to' });
    expect(correct(life, v, 'ApplicationFinished', 26 + 1 / 60)).toMatchObject({ code: 'times-cross' });
    expect(correct(life, v, 'ApplicationFinished', 26)).toMatchObject({ outcome: 'done' });
    expect(correct(life, v, 'ApplicationFinished', 5)).toMatchObject({ outcome: 'done' });
  });

  it('[X1] [E6] a ready strand of a by-part product speaks for its part: parts done after it move past it', () => {
    const life = FloorLife.salon(relaxer({ manner: 'by-part' }));
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(4).do({ type: 'MarkPartDone', visit: v, part: 0 });
    life.at(12).do({ type: 'TestStrand', visit: v, place: 'first', result: 'ready', part: 0, note: null });
    life.at(14).do({ type: 'MarkPartDone', visit: v, part: 1 });
    const { version } = life.floor.visits[v]?.history.at(-1) ?? { version: -1 };
    life.at(16);
    const to = (minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of: version, to: min(minutes), reason: null });
    for (const minutes of [13, 15, 11]) expect(to(minutes)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.parts[1]).toMatchObject({ part: 1, doneAt: min(11) });
  });

  it('[X1] nothing into the future; a screen’s clock may be 2 s ahead', () => {
    const { life, v } = processing();
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    const of = versionOf(life, v, 'RinseBegun');
    const to = (ahead: number) => life.send({ type: 'CorrectTime', visit: v, of, to: min(26) + ahead, reason: null });
    expect(to(2_001)).toMatchObject({ code: 'time-in-future', field: 'to' });
    expect(to(2_000)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.water?.at).toBe(min(26));
  });

  it('[T1] the new moment is a whole second too', () => {
    const { life, v } = processing();
    life.at(25);
    life.do({
      type: 'CorrectTime',
      visit: v,
      of: versionOf(life, v, 'ApplicationFinished'),
      to: min(19) + 999,
      reason: null,
    });
    expect(life.facts(v).passes[0]?.applied?.at).toBe(min(19));
  });

  it('[X1] only of a move of a visit that is known', () => {
    const { life, v } = processing();
    life.do({ type: 'NameStylist', visit: v, stylist: 'person-ama' });
    const to = min(10);
    expect(life.send({ type: 'CorrectTime', visit: 'visit-x', of: 1, to, reason: null })).toMatchObject({
      code: 'unknown-visit',
    });
    expect(life.send({ type: 'CorrectTime', visit: v, of: 99, to, reason: null })).toMatchObject({
      code: 'unknown-moment',
      visit: v,
    });
    expect(correct(life, v, 'StylistNamed', 10)).toMatchObject({ code: 'unknown-moment' });
  });

  it('[X1] a seating done by the same touch moves along, both ways', () => {
    const life = FloorLife.salon();
    life.at(20);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    correct(life, v, 'ApplicationBegun', 10);
    expect(life.facts(v)).toMatchObject({ seatedAt: min(10), passes: [{ begun: { at: min(10) } }] });
    correct(life, v, 'ApplicationBegun', 12);
    expect(life.facts(v)).toMatchObject({ seatedAt: min(12), passes: [{ begun: { at: min(12) } }] });
  });

  it('[X1] a seating said to be earlier stays there, unless the first touch comes to lie before it', () => {
    const life = FloorLife.salon();
    life.at(20);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    correct(life, v, 'VisitSeated', 10);
    correct(life, v, 'ApplicationBegun', 15);
    expect(life.facts(v)).toMatchObject({ seatedAt: min(10), passes: [{ begun: { at: min(15) } }] });
    expect(life.at(25) && correct(life, v, 'VisitSeated', 16)).toMatchObject({ code: 'times-cross' });
    correct(life, v, 'ApplicationBegun', 8);
    expect(life.facts(v)).toMatchObject({ seatedAt: min(8), passes: [{ begun: { at: min(8) } }] });
  });

  it('[X1] a seating of its own is a border', () => {
    const { life, v } = processing();
    expect(correct(life, v, 'ApplicationBegun', -1)).toMatchObject({ code: 'times-cross' });
    expect(correct(life, v, 'ApplicationBegun', 0)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).seatedAt).toBe(min(0));
  });

  it('[X1] a part mark moves between first touch and the end of application; process begins with the part done last', () => {
    const life = FloorLife.salon(
      relaxer({
        parts: relaxer()
          .parts.slice(0, 2)
          .map((one) => ({ ...one, share: 0.5 })),
      }),
    );
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(6).do({ type: 'MarkPartDone', visit: v, part: null });
    const first = life.facts(v).version;
    life.at(12).do({ type: 'MarkPartDone', visit: v, part: null });
    const to = (of: number, minutes: number) =>
      life.send({ type: 'CorrectTime', visit: v, of, to: min(minutes), reason: null });
    expect(to(first, -1)).toMatchObject({ code: 'times-cross' });
    life.at(13);
    expect(to(first, 12.5)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]).toMatchObject({ applied: { at: min(12.5) }, parts: [{ part: 1 }, { part: 0 }] });
    to(first, 5);
    to(first + 1, 11);
    expect(life.facts(v).passes[0]).toMatchObject({
      parts: [
        { begunAt: min(0), doneAt: min(5) },
        { begunAt: min(5), doneAt: min(11) },
      ],
      applied: { at: min(11) },
    });
  });

  it('[X1] naming a basin is no border', () => {
    const { life, v } = processing();
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    life.at(28).do({ type: 'NameBasin', visit: v, basin: 91 });
    life.at(33).do({ type: 'ClearAndOff', visit: v });
    expect(correct(life, v, 'WentClear', 27)).toMatchObject({ outcome: 'done' });
    expect(correct(life, v, 'RinseBegun', 27 + 1 / 60)).toMatchObject({ code: 'times-cross' });
  });

  it.each([
    ['ready', 'times-cross'],
    ['not-yet', null],
  ] as const)('[E6] a strand that is %s: whether an end of application may be moved past it', (result, code) => {
    const { life, v } = processing();
    life.at(24).do({ type: 'TestStrand', visit: v, place: 'porous', result, part: null, note: null });
    life.at(26);
    const past = correct(life, v, 'ApplicationFinished', 24 + 1 / 60);
    expect(past).toMatchObject(code === null ? { outcome: 'done' } : { code, field: 'to' });
    expect(correct(life, v, 'ApplicationFinished', 24)).toMatchObject({ outcome: 'done' });
  });

  it('[X1] also after the visit has ended', () => {
    const { life, v } = processing();
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(33).do({ type: 'ClearAndOff', visit: v });
    life.at(34).do({ type: 'MoveOn', visit: v, to: 'finished' });
    expect(correct(life, v, 'RinseBegun', 25)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v)).toMatchObject({ stage: 'finished', passes: [{ water: { at: min(25) } }] });
  });
});

describe('bought time', () => {
  /** Begun at 0, finished at 10: closes at 25, and later with the end of application up to 30. */
  function early() {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(10).do({ type: 'FinishApplication', visit: v });
    life.at(15);
    return { life, v };
  }

  it('[X1] a close moved later by 2 min wants no reason and is not marked', () => {
    const { life, v } = early();
    expect(correct(life, v, 'ApplicationFinished', 12)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.closeBought).toBe(false);
  });

  it('[X1] by a second more it wants one, and is marked until the rinse', () => {
    const { life, v } = early();
    expect(correct(life, v, 'ApplicationFinished', 12 + 1 / 60)).toMatchObject({
      code: 'reason-needed',
      field: 'reason',
    });
    expect(correct(life, v, 'ApplicationFinished', 12 + 1 / 60, 'marked too early')).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.closeBought).toBe(true);
    expect(life.floor.words[`visit/${v}/note/${versionOf(life, v, 'ApplicationFinished')}`]).toBe('marked too early');
    expect(life.log.filter((one) => one.event.type === 'TimeCorrected').at(-1)?.event).toMatchObject({
      bought: true,
      reasoned: true,
    });
  });

  it('[X1] a move whose close stays is not bought: slow application has its ceiling', () => {
    const { life, v } = early();
    expect(correct(life, v, 'ApplicationBegun', 0)).toMatchObject({ outcome: 'done' });
    expect(correct(life, v, 'ApplicationFinished', 5)).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).passes[0]?.closeBought).toBe(false);
  });

  it('[X1] once water is on, no close can be bought', () => {
    const { life, v } = early();
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(correct(life, v, 'ApplicationFinished', 18)).toMatchObject({ outcome: 'done' });
  });
});

describe('taking back', () => {
  const back = (life: FloorLife, visit: string, sender = saw(life, visit)) =>
    life.send({ type: 'TakeBack', visit }, sender);

  it('[X2] restores exactly what was before', () => {
    const { life, v } = processing();
    life.at(22);
    const before = life.facts(v);
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(23);
    expect(back(life, v)).toMatchObject({ outcome: 'done', visit: v });
    expect({ ...life.facts(v), version: 0, lastMove: null }).toEqual({ ...before, version: 0, lastMove: null });
    expect(life.facts(v).lastMove).toBeNull();
  });

  it('[X2] within 10 min of when it was said, not a millisecond later', () => {
    const { life, v } = processing();
    life.now = min(30) + 1;
    expect(back(life, v)).toMatchObject({ code: 'nothing-to-take-back', visit: v });
    life.now = min(30);
    expect(back(life, v)).toMatchObject({ outcome: 'done' });
    const other = processing();
    other.life.at(29).do({ type: 'BeginRinse', chair: 2, visit: other.v, basin: 91 }, { happenedAt: min(21) });
    other.life.at(39);
    expect(back(other.life, other.v)).toMatchObject({ outcome: 'done' });
  });

  it('[X2] as long as the salon chooses', () => {
    const { life, v } = processing();
    life.do({ type: 'SetFigures', figures: { ...life.floor.salon.figures, takeBackMs: 60_000 } });
    life.now = min(21) + 1;
    expect(back(life, v)).toMatchObject({ code: 'nothing-to-take-back' });
  });

  it('[X2] bell steps do not stand in the way; anything else does', () => {
    const { life, v } = processing();
    life.at(29);
    expect(life.bells(v)).not.toEqual([]);
    life.do({ type: 'TakeBell', visit: v, chair: null, cause: 'off' }, { by: 'person-ama' });
    expect(back(life, v)).toMatchObject({ outcome: 'done' });
    const other = processing();
    other.life.do({ type: 'NameStylist', visit: other.v, stylist: 'person-ama' });
    expect(back(other.life, other.v)).toMatchObject({ code: 'nothing-to-take-back' });
  });

  it('[X2] not twice, and not what has been corrected', () => {
    const { life, v } = processing();
    back(life, v);
    expect(back(life, v)).toMatchObject({ code: 'nothing-to-take-back' });
    const other = processing();
    correct(other.life, other.v, 'ApplicationFinished', 19);
    expect(back(other.life, other.v)).toMatchObject({ code: 'nothing-to-take-back' });
    expect(life.send({ type: 'TakeBack', visit: 'visit-x' })).toMatchObject({ code: 'unknown-visit' });
  });

  it('[S7] a move of somebody else that the sender had not seen is told, not undone', () => {
    const { life, v } = processing();
    const before = saw(life, v);
    life.at(22).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 }, { by: 'person-joss' });
    const told = { code: 'moved-on', since: [{ type: 'RinseBegun', at: min(22), by: 'person-joss' }] };
    expect(back(life, v, before)).toMatchObject(told);
    expect(life.send({ type: 'TakeBack', visit: v })).toMatchObject(told);
    expect(back(life, v, { seen: before.seen + 1 })).toMatchObject({ outcome: 'done' });
  });

  it('[X2] everything that one touch did goes together', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    back(life, v);
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'discarded', passes: [{ begun: null }] });
    const w = life.do({ type: 'SeatVisit', chair: 3, service: null, stylist: null, label: null });
    life.do({ type: 'BeginApplication', chair: 3, visit: w, service: 'service-1' });
    back(life, w);
    expect(life.facts(w)).toMatchObject({ stage: 'prep', service: null, passes: [{ rules: null, begun: null }] });
  });

  it('[X2] a seating taken back gives the chair to the visit that it had ended', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const w = life.at(3).do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    expect(back(life, w)).toMatchObject({ outcome: 'done' });
    expect(life.facts(w)).toMatchObject({ stage: 'finished', end: 'discarded' });
    expect(life.facts(v)).toMatchObject({ stage: 'prep', end: null, chair: 2 });
  });

  it('[X2] not if something was said of that visit since', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'ClearAndOff', visit: v });
    const w = life.at(20).do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const owed = life.facts(v).owed[0];
    life.do({
      type: 'GiveReason',
      visit: v,
      version: owed?.version ?? 0,
      item: 'not-marked',
      reason: 'other',
      note: null,
    });
    back(life, w);
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'next-seated' });
    expect(life.facts(w).end).toBe('discarded');
  });

  it('[X2] a seating at a free chair ends nothing when taken back', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    back(life, v);
    expect(life.log.filter((one) => one.event.type === 'MoveTakenBack')).toHaveLength(1);
  });

  it('[X2] one chair holds one open visit: not back to a chair that has its next client', () => {
    const life = FloorLife.salon();
    const seatAt = (chair: number) => life.do({ type: 'SeatVisit', chair, service: null, stylist: null, label: null });
    const v = seatAt(2);
    life.do({ type: 'MoveOn', visit: v, to: 'finished' });
    const w = seatAt(2);
    expect(back(life, v)).toMatchObject({ code: 'place-taken', visit: w, place: 2 });
    life.do({ type: 'MoveTo', visit: w, chair: 3 });
    const x = seatAt(2);
    expect(back(life, w)).toMatchObject({ code: 'place-taken', visit: x, place: 2 });
    life.do({ type: 'Discard', visit: x });
    expect(back(life, w)).toMatchObject({ outcome: 'done' });
    expect(life.facts(w).chair).toBe(2);
  });

  it('[S6] burns reported by mistake', () => {
    const { life, v } = processing();
    const before = life.facts(v);
    life.at(21).do({ type: 'ReportBurns', chair: 2, visit: v, place: 'skin' });
    back(life, v);
    expect(life.facts(v)).toMatchObject({ stage: 'process', burns: null, bells: [], passes: before.passes });
  });
});

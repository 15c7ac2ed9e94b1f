import { describe, expect, it } from 'vitest';
import type { Draft } from '../../../core/events.ts';
import { evolve } from '../../../core/evolve.ts';
import { openVisits } from '../../../core/floor.ts';
import { MINUTE, type EpochMs } from '../../../core/time.ts';
import { visitStream } from '../../../core/events.ts';
import { headline } from '../../../core/visit/headline.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

/** A floor whose server was away: the machine has counted half a minute since it booted, nobody knows how long it was off. */
class Lost extends FloorLife {
  static override salon(): Lost {
    const life = new Lost();
    Object.assign(life, FloorLife.salon());
    return life;
  }

  lose(): void {
    const aliveAt = this.now;
    this.now += MINUTE / 2;
    const lost: Draft[] = [
      { stream: 'salon', at: this.now, event: { type: 'TimeBecameUncertain', aliveAt, timescale: 'timescale-1' } },
      ...openVisits(this.floor).map(({ id }): Draft => ({
        stream: visitStream(id),
        at: this.now,
        event: { type: 'TimeLost' },
      })),
    ];
    this.put(lost);
    this.pass(0);
  }

  put(drafts: readonly Draft[]): void {
    for (const draft of drafts) {
      const version = this.log.filter((one) => one.stream === draft.stream).length + 1;
      const place = { seq: this.log.length + 1, version, recordedAt: this.now, by: null, device: null, command: null };
      this.log.push({ ...draft, ...place });
      this.floor = evolve(this.floor, { ...draft, ...place });
    }
  }

  confirm(awayMs: number): void {
    this.do({ type: 'ConfirmTime', awayMs });
  }
}

const line = (life: FloorLife, visit: string) => {
  const { figures, uncertainSince } = life.floor.salon;
  return headline(life.facts(visit), { now: life.now, figures, uncertain: uncertainSince !== null });
};

/** Application over at 12:15, window 12:25 to 12:30; the server is lost at 12:16. */
function lostInProcess(): { life: Lost; visit: string; now: EpochMs } {
  const life = Lost.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  life.at(15).do({ type: 'FinishApplication', visit });
  life.at(16).lose();
  return { life, visit, now: life.now };
}

describe('while nobody knows how long the floor was away', () => {
  it('[T3] every head with product on is to be looked at now; no number could be true', () => {
    const { life, visit } = lostInProcess();
    expect(life.floor.floorBells.bells).toMatchObject([{ kind: 'time-uncertain', level: 'WARNING' }]);
    expect(life.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(line(life, visit)).toMatchObject({ deed: 'look', number: null });
  });

  it('[T3] in apply too; a head without product on is left in peace', () => {
    const life = Lost.salon();
    const begun = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    const seated = life.do({ type: 'SeatVisit', chair: 3, service: 'service-1', stylist: null, label: null });
    life.at(3).lose();
    expect(line(life, begun)).toMatchObject({ deed: 'look', number: null });
    expect(life.bells(begun)).toEqual(['rinse WARNING #1']);
    expect(life.bells(seated)).toEqual([]);
    expect(line(life, seated)).toMatchObject({ deed: 'prepare' });
  });

  it('[T3] past the latest close it is certain that it has come', () => {
    const { life, visit } = lostInProcess();
    life.at(30);
    expect(life.bells(visit)).toEqual(['over DANGER #1']);
    expect(line(life, visit).deed).toBe('rinse-now');
  });
});

describe('once it is said how long', () => {
  it('[T3] now lies so much later, and what was recorded before stays where it was', () => {
    const { life, visit, now } = lostInProcess();
    life.confirm(4 * MINUTE);
    expect(life.now).toBe(now + 3.5 * MINUTE);
    expect(life.floor.salon).toMatchObject({ uncertainSince: null, lastSure: null });
    expect(life.floor.gap).toEqual({ fromAt: min(16), toAt: min(20), why: 'rebooted' });
    expect(life.facts(visit)).toMatchObject({ timeLostAt: null });
    life.pass(0);
    expect(line(life, visit)).toMatchObject({ deed: 'rinse-from', number: { to: min(25) }, sureness: 'firm' });
    expect(life.floor.floorBells.bells).toEqual([]);
  });

  it('[T3] what was recorded since the restart moves along: its distance to now is what was lived', () => {
    const { life, visit } = lostInProcess();
    life.pass(2).do({ type: 'BeginRinse', chair: 2, visit, basin: 91 });
    const began = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: null });
    life.pass(1);
    const before = life.now;
    life.confirm(4 * MINUTE);
    const moved = life.now - before;
    expect(moved).toBe(3.5 * MINUTE);
    expect(life.facts(visit).passes[0]?.water?.at).toBe(min(18.5) + moved);
    expect(life.facts(visit).passes[0]?.begun?.at).toBe(min(0));
    expect(life.now - (life.facts(began).passes[0]?.begun?.at ?? 0)).toBe(MINUTE);
    expect(life.facts(began).seatedAt).toBe(life.now - MINUTE);
  });

  it('[T3] bells taken since keep their quiet', () => {
    const { life, visit } = lostInProcess();
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    const [before] = life.facts(visit).bells;
    // Away so long that the close is near: the same bell goes on standing.
    life.confirm(11.5 * MINUTE);
    const [after] = life.facts(visit).bells;
    expect(after).toMatchObject({ kind: 'rinse', episode: 1, rungAt: (before?.rungAt ?? 0) + 11 * MINUTE });
    expect(after?.taken?.at).toBe((before?.taken?.at ?? 0) + 11 * MINUTE);
  });

  it('[T3] never shorter than what the machine has counted since it booted', () => {
    const { life, now } = lostInProcess();
    life.confirm(0);
    expect(life.now).toBe(now);
    expect(life.floor.salon.uncertainSince).toBeNull();
  });

  it('[T3] a second word comes too late, and an absurd one is refused', () => {
    const { life } = lostInProcess();
    expect(life.send({ type: 'ConfirmTime', awayMs: 25 * 60 * MINUTE })).toMatchObject({
      code: 'out-of-range',
      field: 'awayMs',
    });
    life.confirm(4 * MINUTE);
    expect(life.send({ type: 'ConfirmTime', awayMs: 5 * MINUTE })).toMatchObject({ code: 'already-done' });
  });

  it('[R1, T3] the log folded anew gives the same floor', () => {
    const { life, visit } = lostInProcess();
    life.pass(2).do({ type: 'BeginRinse', chair: 2, visit, basin: 91 });
    life.confirm(4 * MINUTE);
    life.pass(3).do({ type: 'ClearAndOff', visit });
    const again = life.log.reduce(evolve, Lost.salon().floor);
    expect(again.visits[visit]).toEqual(life.floor.visits[visit]);
  });

  it('[X2, T3] the step of the clock is nobody’s act: the last move can still be taken back', () => {
    const life = Lost.salon();
    const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'FinishApplication', visit });
    life.lose();
    life.confirm(2 * MINUTE);
    life.do({ type: 'TakeBack', visit }, { seen: life.facts(visit).version });
    expect(life.facts(visit).stage).toBe('apply');
  });
});

import { describe, expect, it } from 'vitest';
import { withBellsDue } from '../../../core/bells/alone.ts';
import { defaultFigures } from '../../../core/salon/salon.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

function processing(): { life: FloorLife; visit: string } {
  const life = FloorLife.salon();
  const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  life.at(15).do({ type: 'FinishApplication', visit });
  return { life, visit };
}

describe('a screen that does not hear the server', () => {
  it('[R10] rings by itself what falls due, under the identity that the server gives it, to the instant', () => {
    const { life, visit } = processing();
    const told = life.facts(visit);
    for (const minute of [22, 27, 29.5, 30, 41]) {
      life.at(minute);
      const alone = withBellsDue(told, defaultFigures, life.now, life.floor.people);
      const identity = ({ cause, kind, level, episode, dueAt, circle }: (typeof alone.bells)[number]) => ({
        cause,
        kind,
        level,
        episode,
        dueAt,
        circle,
      });
      expect(alone.bells.map(identity)).toEqual(life.facts(visit).bells.map(identity));
      expect(alone.episodes).toEqual(life.facts(visit).episodes);
    }
  });

  it('[R10] is the very same head as long as no bell changes', () => {
    const { life, visit } = processing();
    const told = life.facts(visit);
    expect(withBellsDue(told, defaultFigures, min(21.9), life.floor.people)).toBe(told);
    const rung = withBellsDue(told, defaultFigures, min(22), life.floor.people);
    expect(withBellsDue(rung, defaultFigures, min(26.9), life.floor.people)).toBe(rung);
  });

  it('[R2, R10] a bell that was taken stays taken when a later row replaces it', () => {
    const { life, visit } = processing();
    life.at(27).do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-ama' });
    const alone = withBellsDue(life.facts(visit), defaultFigures, min(30), life.floor.people);
    expect(alone.bells).toMatchObject([{ kind: 'over', episode: 1, levelAt: min(30), taken: { by: 'person-ama' } }]);
  });

  it('[R10] ends what ends by itself', () => {
    const { life, visit } = processing();
    life.at(28).do({ type: 'BeginRinse', chair: 2, visit, basin: null });
    const told = life.facts(visit);
    const asked = withBellsDue(told, defaultFigures, min(29.5), life.floor.people);
    expect(asked.bells.map((bell) => bell.kind)).toEqual(['water-on?']);
    expect(withBellsDue({ ...asked, stage: 'dry' }, defaultFigures, min(31), life.floor.people).bells).toEqual([]);
  });
});

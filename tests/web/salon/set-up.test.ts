import { describe, expect, it } from 'vitest';
import { defaultFigures, figureLimits, emptySalon } from '../../../core/salon/salon.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { wallSize } from '../../../shared/schemas/salon.ts';
import { word } from '../../../shared/schemas/basics.ts';
import { figuresDraftOf, readFigures } from '../../../web/src/salon/form/figures-draft.ts';
import { wordFault } from '../../../web/src/salon/form/fault.ts';
import { readKept, writeKept } from '../../../web/src/salon/form/kept-draft.ts';
import { isLoopback } from '../../../web/src/salon/form/loopback.ts';
import {
  languageOptions,
  letterLabel,
  placeFaults,
  proposeManners,
  proposePlaces,
  zonesByRegion,
  type PlacesKnown,
} from '../../../web/src/salon/form/proposals.ts';
import { refusedField } from '../../../web/src/salon/form/refusal-field.ts';
import { firstSteps, nextStep, stepDone, stepWaits, type SetUpSoFar } from '../../../web/src/salon/form/resume.ts';
import { readWall, readingOf, tapeBar, wallDraftOf, wallLimits } from '../../../web/src/salon/form/wall-draft.ts';
import { isZone, setUpOf } from '../../../web/src/salon/set-up.ts';
import { keepIn } from '../../../web/src/state/keep.ts';
import { FloorLife } from '../../support/floor-life.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';

const nothing: PlacesKnown = { numbers: new Set(), labels: new Set() };
const known = (numbers: number[], labels: string[]): PlacesKnown => ({
  numbers: new Set(numbers),
  labels: new Set(labels),
});
const said = (places: readonly { number: string; label: string }[]): string[] =>
  places.map(({ number, label }) => `${number} ${label}`);

describe('chairs and basins proposed', () => {
  it('six chairs and two basins of a new salon', () => {
    expect(said(proposePlaces('chair', 6, nothing))).toEqual(['1 1', '2 2', '3 3', '4 4', '5 5', '6 6']);
    expect(said(proposePlaces('basin', 2, nothing))).toEqual(['91 A', '92 B']);
  });
  it('go round numbers and labels that are taken, retired numbers included', () => {
    expect(said(proposePlaces('chair', 2, known([1, 3], ['1', '2', '3'])))).toEqual(['4 4', '5 5']);
    expect(said(proposePlaces('basin', 2, known([91], ['a', 'c'])))).toEqual(['92 B', '93 D']);
  });
  it('letters go on after Z', () => {
    expect([0, 25, 26, 27, 51, 52].map(letterLabel)).toEqual(['A', 'Z', 'AA', 'AB', 'AZ', 'BA']);
  });
  it('whatever is proposed has no fault', () => {
    for (const kind of ['chair', 'basin'] as const) {
      expect(
        placeFaults(proposePlaces(kind, 40, known([2, 95], ['2', 'b', 'k'])), known([2, 95], ['2', 'b', 'k'])),
      ).toEqual([]);
    }
  });
  it.each([
    ['a number of another', [{ number: '7', label: 'x' }], '0.number number-taken'],
    [
      'a number typed twice',
      [
        { number: '1', label: 'x' },
        { number: '1', label: 'y' },
      ],
      '1.number number-taken',
    ],
    ['a label of another, in another case', [{ number: '1', label: 'ONE' }], '0.label label-taken'],
    [
      'a label typed twice',
      [
        { number: '1', label: 'x' },
        { number: '2', label: ' X ' },
      ],
      '1.label label-taken',
    ],
    ['number 0', [{ number: '0', label: 'x' }], '0.number out-of-range'],
    ['number 1000', [{ number: '1000', label: 'x' }], '0.number out-of-range'],
    ['half a number', [{ number: '1.5', label: 'x' }], '0.number not-whole'],
    ['no number', [{ number: '', label: 'x' }], '0.number missing'],
    ['no label', [{ number: '1', label: ' ' }], '0.label missing'],
    ['a label of five', [{ number: '1', label: 'front' }], '0.label too-long'],
  ])('%s is refused at its field', (_what, drafts, fault) => {
    expect(placeFaults(drafts, known([7], ['one'])).map((one) => `${one.field} ${one.fault}`)).toEqual([fault]);
  });
  it('words are judged as the server judges them (shared/schemas/basics.ts)', () => {
    for (const text of ['A', '', '  ', 'ABCD', ' ABCD ', 'ABCDE', 'a\u0000', 'ab\n', 'é', 'e\u0301']) {
      expect(wordFault('label', text, 4) === null, JSON.stringify(text)).toBe(word(4).safeParse(text).success);
    }
  });
});

describe('zone, language and hours proposed', () => {
  it('from the machine', () => {
    expect(proposeManners({ zone: 'Europe/Berlin', languages: ['de-DE', 'en-GB'], hourCycle: 'h23' }, ['en'])).toEqual({
      zone: 'Europe/Berlin',
      language: 'en-GB',
      hourCycle: 'h23',
    });
    expect(proposeManners({ zone: undefined, languages: [], hourCycle: 'h11' }, ['en'])).toEqual({
      zone: 'UTC',
      language: 'en',
      hourCycle: 'h12',
    });
  });
  it('only languages that are spoken here, the kept one among them', () => {
    expect(languageOptions(['de', 'en-US', 'enx'], ['en'], 'en-GB')).toEqual(['en-US', 'en-GB', 'en']);
  });
  it('zones stand under their region, once each, with the wanted one', () => {
    expect(
      zonesByRegion(['Europe/Rome', 'Asia/Tokyo', 'Europe/Berlin'], ['Europe/Berlin', 'America/Argentina/Salta']),
    ).toEqual([
      ['', ['UTC']],
      ['America', ['America/Argentina/Salta']],
      ['Asia', ['Asia/Tokyo']],
      ['Europe', ['Europe/Berlin', 'Europe/Rome']],
    ]);
  });
  it('a zone is one that the machine can tell the time in', () => {
    expect([isZone('Asia/Kathmandu'), isZone('Moon/Base'), isZone('')]).toEqual([true, false, false]);
  });
});

describe('the first start goes on where it was left', () => {
  const none: SetUpSoFar = { setUp: false, chairs: 0, basins: 0, people: 0, directions: 0, services: 0 };
  const all: SetUpSoFar = { setUp: true, chairs: 1, basins: 1, people: 1, directions: 1, services: 1 };
  it('at the first step that is not stored', () => {
    expect(nextStep(none)).toBe('salon');
    expect(nextStep({ ...none, setUp: true, chairs: 6 })).toBe('basins');
    expect(nextStep({ ...all, chairs: 0 })).toBe('chairs');
    expect(nextStep({ ...all, services: 0 })).toBe('service');
    expect(nextStep(all)).toBeNull();
  });
  it('each step is done by its own fact and no other', () => {
    const counts = {
      salon: 'setUp',
      chairs: 'chairs',
      basins: 'basins',
      people: 'people',
      directions: 'directions',
      service: 'services',
    } as const;
    for (const step of firstSteps) {
      expect(stepDone(step, all), step).toBe(true);
      expect(stepDone(step, { ...all, [counts[step]]: step === 'salon' ? false : 0 }), step).toBe(false);
      expect(stepDone(step, { ...none, [counts[step]]: step === 'salon' ? true : 1 }), step).toBe(true);
    }
  });
  it('only the service waits, for directions to be made from', () => {
    expect(firstSteps.filter((step) => stepWaits(step, none))).toEqual(['service']);
    expect(firstSteps.filter((step) => stepWaits(step, { ...none, directions: 1 }))).toEqual([]);
  });
  it('retired things count as not there; their numbers stay taken and their labels come free', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 91 });
    life.do({ type: 'RetirePlace', number: 92 });
    life.do({ type: 'RetirePerson', person: 'person-ama' });
    const { soFar, places } = setUpOf(new StagedSession(life).mirror);
    expect(soFar).toEqual({ setUp: true, chairs: 4, basins: 0, people: 1, directions: 1, services: 1 });
    expect(nextStep(soFar)).toBe('basins');
    expect(places.numbers.has(91)).toBe(true);
    expect(places.labels.has('a')).toBe(false);
  });
});

describe('half-typed forms outlive the page', () => {
  const blank = { name: '', rods: false, parts: [] as string[] };
  it('come back whole, and are gone once stored', () => {
    const keep = keepIn(null);
    writeKept(keep, 'x', { name: 'half', rods: true, parts: ['a'] });
    expect(readKept(keep, 'x', blank)).toEqual({ name: 'half', rods: true, parts: ['a'] });
    writeKept(keep, 'x', null);
    expect(readKept(keep, 'x', blank)).toBeNull();
  });
  it('fields of another kind or unknown ones are left out, what is no form is forgotten', () => {
    const keep = keepIn(null);
    writeKept(keep, 'x', { name: 7, rods: true, parts: {}, other: 1 });
    expect(readKept(keep, 'x', blank)).toEqual({ name: '', rods: true, parts: [] });
    for (const text of ['[1]', '"x"', 'null', '{', '7']) {
      keep.write('salon.x', text);
      expect(readKept(keep, 'x', blank), text).toBeNull();
    }
  });
});

describe('figures of the salon', () => {
  it('come back from their form unchanged', () => {
    expect(readFigures(figuresDraftOf(defaultFigures))).toEqual({ figures: defaultFigures, faults: [] });
  });
  it.each(Object.entries(figureLimits))('%s is held to its limits, both inclusive', (name, [least, most]) => {
    const draft = figuresDraftOf(defaultFigures);
    const faultsAt = (ms: number): string[] =>
      readFigures({ ...draft, ...figuresDraftOf({ ...defaultFigures, [name]: ms }) }).faults.map(
        ({ field, fault }) => `${field} ${fault}`,
      );
    expect([faultsAt(least), faultsAt(most)]).toEqual([[], []]);
    expect(faultsAt(most + SECOND)).toEqual([`${name} out-of-range`]);
    if (least > 0) expect(faultsAt(least - SECOND)).toEqual([`${name} out-of-range`]);
  });
  it('an empty one is missing, not nothing', () => {
    expect(readFigures({ ...figuresDraftOf(defaultFigures), walkMs: '' }).faults.map(({ fault }) => fault)).toEqual([
      'missing',
    ]);
    expect(readFigures({ ...figuresDraftOf(defaultFigures), walkMs: '0' }).figures?.walkMs).toBe(0);
    expect(readFigures({ ...figuresDraftOf(defaultFigures), walkMs: '1:30' }).figures?.walkMs).toBe(1.5 * MINUTE);
  });
});

describe('the wall', () => {
  it('is held to the limits of the wire', () => {
    for (const [name, [least, most]] of Object.entries(wallLimits)) {
      for (const [value, fine] of [
        [least, true],
        [most, true],
        [least - 0.01, false],
        [most + 0.01, false],
      ] as const) {
        const wall = { ...emptySalon.wall, [name]: value };
        expect(wallSize.safeParse(wall).success, `${name} ${value}`).toBe(fine);
        expect(readWall(wallDraftOf(wall)).wall !== null, `${name} ${value}`).toBe(fine);
      }
    }
  });
  it('[W1] 43 inches at 5 m and 1080 lines: 59 px digits of 29.3 mm, 12 chairs to a wall', () => {
    const reading = readingOf({ diagonalIn: 43, distanceM: 5 }, { widthPx: 1920, heightPx: 1080 }, 20);
    expect(reading.digitPx).toBe(59);
    // h = 2 · 5000 mm · tan(10′) = 29.09 mm, by hand.
    expect(reading.digitMm).toBeCloseTo(29.09, 2);
    expect(reading.paintedMm).toBeCloseTo(29.25, 2);
    expect(reading.paintedArcmin).toBeGreaterThanOrEqual(20);
    expect([reading.lanesPerWall, reading.walls]).toEqual([12, 2]);
  });
  it('the bar to measure is the longest round length that fits', () => {
    // A px of 43 inches at 1920 × 1080 is 0.4958 mm: 300 mm are 605 px, 500 mm 1008.
    const pixelMm = (43 * 25.4) / Math.hypot(1920, 1080);
    expect(tapeBar(pixelMm, 700)?.mm).toBe(300);
    expect(tapeBar(pixelMm, 700)?.px).toBeCloseTo(605.1, 0);
    expect(tapeBar(pixelMm, 604)?.mm).toBe(200);
    expect(tapeBar(pixelMm, 1009)?.mm).toBe(500);
    expect(tapeBar(pixelMm, 20)).toBeNull();
  });
});

describe('refusals and where the page came from', () => {
  it.each([
    ['rules.maxAfterMs:max-below-min', 'maxAfterMs'],
    ['rules.parts.2.ceilingMs:part-ceiling-above-head', 'parts.2.ceilingMs'],
    ['figures.walkMs', 'walkMs'],
    ['wall.diagonalIn', 'diagonalIn'],
    ['name', 'name'],
    [null, null],
  ])('%s is shown at %s', (field, shown) => {
    expect(refusedField({ field })).toBe(shown);
  });
  it('only this machine’s own loopback is nobody else’s', () => {
    for (const host of ['localhost', 'LOCALHOST', 'a.localhost', '127.0.0.1', '127.8.9.1', '[::1]']) {
      expect(isLoopback(host), host).toBe(true);
    }
    for (const host of ['192.168.1.4', 'salon.local', '127.example.org', 'notlocalhost', '::2', '10.0.0.1']) {
      expect(isLoopback(host), host).toBe(false);
    }
  });
});

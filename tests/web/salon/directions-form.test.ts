import { describe, expect, it } from 'vitest';
import { checkRules } from '../../../core/directions/check.ts';
import { productClasses } from '../../../core/directions/product-class.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import {
  blankDraft,
  draftOf,
  stepDraft,
  usualFinishing,
  type DirectionsDraft,
} from '../../../web/src/salon/form/directions-draft.ts';
import { minutesText, minutesTyped, numberTyped, wholeTyped } from '../../../web/src/salon/form/minutes.ts';
import { equalShares, withEqualShares, type PartDraft } from '../../../web/src/salon/form/part-plan.ts';
import { readDraft } from '../../../web/src/salon/form/read-draft.ts';
import { rules as rulesSchema } from '../../../shared/schemas/directions.ts';
import { colour, perm, relaxer, warmed } from '../../support/directions-kit.ts';

/** A relaxer as somebody types it: the figures of common practice, ceiling invented. */
function typed(changes: Partial<DirectionsDraft> = {}): DirectionsDraft {
  return { ...draftOf(relaxer(), 'Regular', 'leaflet'), ...changes };
}

/** Figures under heat as typed, earlier than those of the relaxer without. */
const warm = (changes: Partial<DirectionsDraft> = {}): Partial<DirectionsDraft> => ({
  ...{ heat: 'allowed' as const, heatMinAfter: '6', heatMaxAfter: '9', heatCeiling: '20' },
  ...changes,
});

/** The four parts of the relaxer, one of them otherwise. */
const withPart = (i: number, changes: Partial<PartDraft>): Partial<DirectionsDraft> => ({
  parts: typed().parts.map((part, n) => (n === i ? { ...part, ...changes } : part)),
});

const faultsOf = (draft: DirectionsDraft): string[] =>
  readDraft(draft).faults.map(({ field, fault }) => `${field}: ${fault}`);

describe('minutes as people type them', () => {
  it.each([
    ['12', 12 * MINUTE],
    [' 7.5 ', 7 * MINUTE + 30 * SECOND],
    ['7,5', 7 * MINUTE + 30 * SECOND],
    ['7:30', 7 * MINUTE + 30 * SECOND],
    ['0', 0],
    ['0:05', 5 * SECOND],
    // A third of a minute is kept as a whole second: 0.33 × 60 = 19.8.
    ['0.33', 20 * SECOND],
  ])('%s', (text, value) => {
    expect(minutesTyped(text)).toEqual({ kind: 'value', value });
  });
  it.each(['7:60', '7:5', '-3', 'ten', '1e3', '7 min', '5-10', '∞', 'NaN', '9999999999'])('%s is none', (text) => {
    expect(minutesTyped(text)).toEqual({ kind: 'not' });
  });
  it('an empty field is empty, not zero', () => {
    expect([minutesTyped('  '), numberTyped(''), wholeTyped('')]).toEqual(Array(3).fill({ kind: 'empty' }));
  });
  it('come back as they went in', () => {
    for (const seconds of [0, 1, 59, 60, 90, 600, 601, 10_800]) {
      expect(minutesTyped(minutesText(seconds * SECOND))).toEqual({ kind: 'value', value: seconds * SECOND });
    }
  });
  it('a count is whole', () => {
    expect(wholeTyped('2')).toEqual({ kind: 'value', value: 2 });
    expect(wholeTyped('2.5')).toEqual({ kind: 'not' });
  });
});

describe('directions and their form', () => {
  it.each([
    ['relaxer', relaxer()],
    ['perm', perm()],
    ['colour', colour()],
    ['foils', relaxer({ class: 'lightener', manner: 'by-part', minTotalMs: 20 * MINUTE, heat: 'allowed' })],
    ['lightener with own figures under heat', relaxer({ class: 'lightener', ...warmed })],
    ['one part, heat required', relaxer({ parts: [{ place: 'other', share: 1, ceilingMs: null }], heat: 'required' })],
    [
      'hairline earlier, strips',
      relaxer({
        parts: [
          { place: 'nape-left', share: 0.5, ceilingMs: null },
          { place: 'hairline', share: 0.5, ceilingMs: 20 * MINUTE },
        ],
        finishing: [
          { kind: 'condition', dwellMs: 90 * SECOND },
          { kind: 'shampoos', count: 3, dwellMs: 2 * MINUTE, proof: 'strip', stripLimit: 7.5 },
        ],
        headsPerContainer: null,
        washAfterHours: null,
        colourAfterDays: null,
      }),
    ],
  ])('a kept %s comes back from its form unchanged', (_what, rules) => {
    const reading = readDraft(draftOf(rules, 'Name', 'Source'));
    expect(reading.faults).toEqual([]);
    expect(reading.rules).toEqual(rules);
    expect(rulesSchema.parse(reading.rules)).toEqual(rules);
  });
  it('thirds survive in per cent with two decimals, within what core allows', () => {
    const parts = (['nape-left', 'nape-right', 'other'] as const).map((place) => ({
      place,
      share: 1 / 3,
      ceilingMs: null,
    }));
    const reading = readDraft(draftOf(relaxer({ parts }), 'Name', 'Source'));
    expect(reading.rules?.parts.map(({ share }) => share)).toEqual([0.3333, 0.3333, 0.3333]);
  });
  it('a blank form proposes no minutes of the product, and says what is missing', () => {
    const { faults, rules, forWindow } = readDraft(blankDraft());
    expect(rules).toBeNull();
    expect(forWindow).toBe('wait');
    expect(faults.map(({ field, fault }) => `${field}: ${fault}`).sort()).toEqual(
      ['class', 'maxAfterMs', 'minAfterMs', 'name', 'nominalMs', 'rinseMs', 'source'].map(
        (field) => `${field}: missing`,
      ),
    );
  });
  it('the window can be drawn before the steps after the rinse are known, and before the kind is', () => {
    const reading = readDraft(typed({ rinse: '', finishing: [stepDraft('condition')], class: '' }));
    expect(reading.rules).toBeNull();
    expect(reading.forWindow).toMatchObject({ nominalMs: 15 * MINUTE, ceilingMs: 30 * MINUTE });
  });
  it('minutes that contradict each other draw no window', () => {
    expect(readDraft(typed({ maxAfter: '8' })).forWindow).toBe('wrong');
    expect(readDraft(typed({ heat: 'allowed', ...warm({ heatMaxAfter: '16' }) })).forWindow).toBe('wrong');
  });
  it.each(productClasses)(
    '[E3] %s without a ceiling: a window is refused and the ceiling asked for, colour has one',
    (kind) => {
      const { forWindow } = readDraft(typed({ class: kind, ceiling: '' }));
      if (kind === 'colour') expect(forWindow).toMatchObject({ ceilingMs: null });
      else expect(forWindow).toBe('ceiling');
    },
  );
  it('[E3] without a kind nothing says whether a ceiling is wanted: it waits, and contradicts nothing', () => {
    expect(readDraft(typed({ class: '', ceiling: '' })).forWindow).toBe('wait');
    expect(readDraft(typed({ class: 'hydroxide', ceiling: '', maxAfter: '' })).forWindow).toBe('wait');
    expect(readDraft(typed({ class: 'hydroxide', ceiling: '', maxAfter: '8' })).forWindow).toBe('wrong');
  });
});

describe('what is wrong is said at its field', () => {
  it.each<[string, Partial<DirectionsDraft>, string[]]>([
    ['longest below shortest', { maxAfter: '8' }, ['maxAfterMs: max-below-min']],
    ['ceiling below the least', { ceiling: '9' }, ['ceilingMs: ceiling-below-min']],
    ['not a length, named once', { maxAfter: 'soon' }, ['maxAfterMs: not-minutes']],
    ['nothing is too long for one without a number', { minAfter: '' }, ['minAfterMs: missing']],
    ['over three hours', { maxAfter: '181' }, ['maxAfterMs: out-of-range']],
    ['hours', { ceiling: '600' }, ['ceilingMs: out-of-range']],
    ['more minutes than anybody lives', { ceiling: '99999999' }, ['ceilingMs: out-of-range']],
    ['a minus', { minAfter: '-10' }, ['minAfterMs: negative']],
    ['another minus', { ceiling: '\u221230' }, ['ceilingMs: negative']],
    ['an application in no time', { nominal: '0' }, ['nominalMs: out-of-range']],
    ['a ceiling of nothing', { ceiling: '0' }, ['ceilingMs: out-of-range', 'ceilingMs: ceiling-below-min']],
    ['a longest of nothing', { maxAfter: '0' }, ['maxAfterMs: out-of-range', 'maxAfterMs: max-below-min']],
    ['tests without end', { testEvery: '0' }, ['testEveryMs: out-of-range']],
    ['a ceiling below the least from first touch', { minTotal: '31' }, ['ceilingMs: ceiling-below-min']],
    ['decimals with a comma are fine', { minAfter: '7,5', maxAfter: '12,25' }, []],
    ['shares', withPart(0, { share: '30' }), ['parts: shares-sum']],
    ['a share of nothing', withPart(0, { share: '0' }), ['parts.0.share: share-nothing']],
    ['a share not typed yet', withPart(0, { share: '' }), ['parts.0.share: missing']],
    ['a share below nothing', withPart(0, { share: '-25' }), ['parts.0.share: negative']],
    ['no part', { parts: [] }, ['parts: parts-count']],
    ['no part asked for', { partCount: '0' }, ['partCount: out-of-range']],
    ['thirteen parts asked for', { partCount: '13' }, ['partCount: out-of-range']],
    ['half a part', { partCount: '2.5' }, ['partCount: not-whole']],
    ['a part twice', withPart(1, { place: 'nape-left' }), ['parts.1.place: place-twice']],
    [
      'a part’s ceiling above the head’s',
      withPart(2, { ceiling: '31' }),
      ['parts.2.ceilingMs: part-ceiling-above-head'],
    ],
    ['a part’s ceiling below the least', withPart(2, { ceiling: '9:59' }), ['parts.2.ceilingMs: ceiling-below-min']],
    ['a part’s ceiling as low as the least', withPart(2, { ceiling: '10' }), []],
    ['[E10] figures under heat', warm(), []],
    ['[E10] the same under heat as without', warm({ heatMinAfter: '10', heatMaxAfter: '15', heatCeiling: '30' }), []],
    ['[E10] heat is not allowed: they say nothing', { ...warm({ heatCeiling: '99' }), heat: 'never' }, []],
    [
      '[E10] a shortest under heat that is later',
      warm({ heatMinAfter: '10:01', heatMaxAfter: '15' }),
      ['underHeat.minAfterMs: heat-later'],
    ],
    ['[E10] a longest under heat that is later', warm({ heatMaxAfter: '15:01' }), ['underHeat.maxAfterMs: heat-later']],
    ['[E10] a ceiling under heat that is later', warm({ heatCeiling: '31' }), ['underHeat.ceilingMs: heat-later']],
    ['[E10] no ceiling under heat', warm({ heatCeiling: '' }), ['underHeat.ceilingMs: ceiling-missing']],
    [
      '[E10] no ceiling under heat, of a kind that may do without',
      { ...warm({ heatCeiling: '' }), class: 'colour' },
      ['underHeat.ceilingMs: heat-later'],
    ],
    [
      '[E10] half of the figures under heat',
      warm({ heatMinAfter: '', heatMaxAfter: '' }),
      ['underHeat.minAfterMs: missing', 'underHeat.maxAfterMs: missing'],
    ],
    [
      '[E10] a longest under heat below its shortest',
      warm({ heatMaxAfter: '5' }),
      ['underHeat.maxAfterMs: max-below-min'],
    ],
    [
      '[E10] a ceiling under heat below its shortest',
      warm({ heatCeiling: '5' }),
      ['underHeat.ceilingMs: ceiling-below-min'],
    ],
    ['[E10] compared with what is typed only', { ...warm(), minAfter: '' }, ['minAfterMs: missing']],
    ['a container for no head', { heads: '0' }, ['headsPerContainer: out-of-range']],
    [
      'strips without a limit',
      { finishing: [{ ...stepDraft('shampoos'), dwell: '2', proof: 'strip' }] },
      ['finishing.0.stripLimit: strip-limit-missing'],
    ],
    [
      'eleven shampoos',
      { finishing: [{ ...stepDraft('shampoos'), dwell: '2', count: '11' }] },
      ['finishing.0.count: out-of-range'],
    ],
    [
      'a neutralizer’s window the wrong way round',
      { finishing: [{ ...stepDraft('neutralizer'), minAfter: '10', maxAfter: '5', rinse: '3' }] },
      ['finishing.0.maxAfterMs: max-below-min'],
    ],
    [
      'a neutralizer whose longest is not typed yet',
      { finishing: [{ ...stepDraft('neutralizer'), minAfter: '10', rinse: '3' }] },
      ['finishing.0.maxAfterMs: missing'],
    ],
    ['too many heads', { heads: '101' }, ['headsPerContainer: out-of-range']],
    ['a name too long', { name: 'x'.repeat(41) }, ['name: too-long']],
    ['a name of blanks', { name: '   ' }, ['name: missing']],
    ['a control character', { source: 'leaf\u0007let' }, ['source: odd-signs']],
  ])('%s', (_what, changes, faults) => {
    expect(faultsOf(typed(changes))).toEqual(faults);
    expect(readDraft(typed(changes)).rules === null).toBe(!faults.every((one) => /^(name|source)/.test(one)));
  });
  it.each(productClasses)('[E3] a ceiling is asked of %s unless it is colour', (productClass) => {
    const faults = faultsOf(typed({ class: productClass, ceiling: '' }));
    expect(faults).toEqual(productClass === 'colour' ? [] : ['ceilingMs: ceiling-missing']);
  });
  it('names the figure that it is measured by', () => {
    const measures = (draft: DirectionsDraft) => readDraft(draft).faults.map(({ least, most }) => [least, most]);
    expect(measures(typed({ maxAfter: '8' }))).toEqual([['10', null]]);
    expect(measures(typed({ ceiling: '9', minTotal: '12:30' }))).toEqual([['12:30', null]]);
    expect(measures(typed(withPart(2, { ceiling: '31' })))).toEqual([[null, '30']]);
    expect(measures(typed(withPart(2, { ceiling: '9' })))).toEqual([['10', null]]);
    expect(measures(typed(withPart(0, { share: '30,5' })))).toEqual([['105.5', null]]);
    expect(measures(typed(withPart(1, { place: 'nape-left' })))).toEqual([['1', null]]);
    expect(measures(typed(warm({ heatCeiling: '31' })))).toEqual([[null, '30']]);
    expect(measures(typed(warm({ heatMaxAfter: '5' })))).toEqual([['6', null]]);
    expect(measures(typed({ maxAfter: '0', minAfter: '0' }))).toEqual([['1', '180']]);
    expect(measures(typed({ testEvery: '0' }))).toEqual([['0:30', '180']]);
  });
  it('whatever has no fault passes core’s own check and the wire’s', () => {
    for (const rules of [relaxer(), perm(), colour()]) {
      const read = readDraft(draftOf(rules, 'Name', 'Source')).rules;
      expect(read === null ? ['unread'] : checkRules(read)).toEqual([]);
    }
  });
});

describe('proposals of the form', () => {
  it('[E6] a first strand test left empty is half of the least time', () => {
    expect(readDraft(typed({ firstTest: '', minAfter: '7' })).rules?.firstTestMs).toBe(3.5 * MINUTE);
  });
  it('[S1] steps after the rinse follow the kind of product, without minutes', () => {
    expect(usualFinishing('hydroxide').map(({ kind }) => kind)).toEqual(['shampoos', 'condition']);
    expect(usualFinishing('thio').map(({ kind }) => kind)).toEqual(['neutralizer', 'condition']);
    expect(usualFinishing('colour').map(({ kind }) => kind)).toEqual(['condition']);
    expect(usualFinishing('')).toEqual([]);
    expect(
      usualFinishing('thio').every(({ dwell, minAfter, maxAfter }) => `${dwell}${minAfter}${maxAfter}` === ''),
    ).toBe(true);
  });
  it.each([1, 2, 3, 4, 6, 7, 12])('equal shares of %i parts come to exactly 100 %%', (count) => {
    const sum = equalShares(count).reduce((total, share) => total + Number(share), 0);
    expect(Math.abs(sum - 100)).toBeLessThan(1e-9);
    const parts = Array.from({ length: count }, () => ({ place: 'other' as const, share: '', ceiling: '' }));
    expect(faultsOf(typed({ parts: withEqualShares(parts) }))).toEqual([]);
  });
});

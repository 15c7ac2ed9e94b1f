import type { Command } from '../../core/command.ts';
import { defaultParts, type Rules } from '../../core/directions/rules.ts';
import type { CommandId, PersonId } from '../../core/ids.ts';
import { MINUTE } from '../../core/time.ts';

/** One thing to be said while the salon is set up; what it creates carries its id (S8). */
export interface SettingUp {
  readonly id: CommandId;
  readonly by: PersonId | null;
  readonly command: Command;
}

export const chairs = [1, 2, 3, 4, 5, 6, 7, 8] as const;
/** Numbers of the basins A, B and C. */
export const basins = [91, 92, 93] as const;

/** Invented people of an invented teaching salon. */
export const instructor = 'person-odile';
export const assistant = 'person-kwame';
export const people = [
  { id: instructor, name: 'Odile', roles: ['senior', 'manager'] },
  { id: assistant, name: 'Kwame', roles: ['assistant'] },
  { id: 'person-suvi', name: 'Suvi', roles: ['stylist'] },
  { id: 'person-mateo', name: 'Mateo', roles: ['stylist'] },
  { id: 'person-linh', name: 'Linh', roles: ['stylist'] },
  { id: 'person-tarik', name: 'Tarik', roles: ['stylist'] },
  { id: 'person-anahera', name: 'Anahera', roles: ['stylist'] },
] as const;

/** Which student works at which chair; some look after two. */
const students: Readonly<Record<number, PersonId>> = {
  1: 'person-suvi',
  2: 'person-mateo',
  3: 'person-linh',
  4: 'person-tarik',
  5: 'person-anahera',
  6: 'person-mateo',
  7: 'person-tarik',
  8: 'person-anahera',
};

export function studentAt(chair: number): PersonId {
  return students[chair] ?? assistant;
}

/**
 * Figures of common practice (no source) where there are any: head applied in 15 min, 10 to 15 min after that, two neutralizing
 * shampoos, no wash for 48 h, no colour for 7 days, three heads a tub. Ceiling, strand tests, rinse and dwells are invented.
 */
const relaxer: Rules = {
  class: 'hydroxide',
  nominalMs: 15 * MINUTE,
  minAfterMs: 10 * MINUTE,
  maxAfterMs: 15 * MINUTE,
  ceilingMs: 30 * MINUTE,
  minTotalMs: null,
  manner: 'whole-head',
  parts: defaultParts,
  firstTestMs: 4 * MINUTE,
  testEveryMs: 5 * MINUTE,
  graceMs: 2 * MINUTE,
  rinseMs: 5 * MINUTE,
  finishing: [
    { kind: 'shampoos', count: 2, dwellMs: 2 * MINUTE, proof: 'indicator', stripLimit: null },
    { kind: 'condition', dwellMs: 3 * MINUTE },
  ],
  heat: 'never',
  underHeat: null,
  headsPerContainer: 3,
  washAfterHours: 48,
  colourAfterDays: 7,
};

/** All figures from here on are invented. */
const untold = { headsPerContainer: null, washAfterHours: null, colourAfterDays: null } as const;
const perm: Rules = {
  ...relaxer,
  ...untold,
  class: 'thio',
  nominalMs: 20 * MINUTE,
  maxAfterMs: 20 * MINUTE,
  ceilingMs: 45 * MINUTE,
  firstTestMs: 5 * MINUTE,
  heat: 'allowed',
  underHeat: { minAfterMs: 8 * MINUTE, maxAfterMs: 16 * MINUTE, ceilingMs: 40 * MINUTE },
  finishing: [
    { kind: 'neutralizer', minAfterMs: 5 * MINUTE, maxAfterMs: 10 * MINUTE, rinseMs: 3 * MINUTE, rods: true },
    { kind: 'condition', dwellMs: 3 * MINUTE },
  ],
};
const lightener: Rules = {
  ...relaxer,
  ...untold,
  class: 'lightener',
  manner: 'by-part',
  nominalMs: 20 * MINUTE,
  minAfterMs: 15 * MINUTE,
  maxAfterMs: 30 * MINUTE,
  ceilingMs: 55 * MINUTE,
  firstTestMs: 8 * MINUTE,
  rinseMs: 4 * MINUTE,
  finishing: [],
};
const colour: Rules = {
  ...lightener,
  class: 'colour',
  manner: 'whole-head',
  nominalMs: 15 * MINUTE,
  minAfterMs: 20 * MINUTE,
  ceilingMs: null,
  firstTestMs: 12 * MINUTE,
  finishing: [{ kind: 'condition', dwellMs: 3 * MINUTE }],
};
const toner: Rules = {
  ...colour,
  nominalMs: 4 * MINUTE,
  minAfterMs: 8 * MINUTE,
  maxAfterMs: 15 * MINUTE,
  firstTestMs: 5 * MINUTE,
  rinseMs: 3 * MINUTE,
  parts: [{ place: 'other', share: 1, ceilingMs: null }],
};

const INVENTED = 'invented for the model day; never for use on a head';
const products = [
  {
    id: 'product-relaxer',
    name: 'Relaxer (invented)',
    source: `common practice, no source; ceiling, tests, rinse and dwells ${INVENTED}`,
    rules: relaxer,
  },
  { id: 'product-perm', name: 'Perm (invented)', source: INVENTED, rules: perm },
  { id: 'product-lightener', name: 'Lightener in foils (invented)', source: INVENTED, rules: lightener },
  { id: 'product-toner', name: 'Toner (invented)', source: INVENTED, rules: toner },
  { id: 'product-colour', name: 'Colour (invented)', source: INVENTED, rules: colour },
] as const;

const limits = [
  { stage: 'prep', limitMs: 20 * MINUTE },
  { stage: 'dry', limitMs: 25 * MINUTE },
] as const;
const sold = [
  { id: 'service-relaxing', name: 'Relaxing', passes: ['product-relaxer'] },
  { id: 'service-perm', name: 'Perm', passes: ['product-perm'] },
  { id: 'service-lightening', name: 'Foils and toner', passes: ['product-lightener', 'product-toner'] },
  { id: 'service-colour', name: 'Colour', passes: ['product-colour'] },
] as const;
export type ServiceSold = (typeof sold)[number]['id'];

/** Everything to be said before the first model comes, in rounds: within a round the order does not matter. */
export function settingUp(zone: string): readonly (readonly SettingUp[])[] {
  const say = (id: CommandId, command: Command, by: PersonId | null = null): SettingUp => ({ id, by, command });
  const salon = say('model-day-salon', {
    type: 'SetUpSalon',
    name: 'Teaching salon, model day',
    zone,
    language: 'en',
    hourCycle: 'h23',
    demonstration: true,
  });
  return [
    [salon],
    [
      ...chairs.map((number) =>
        say(`model-day-chair-${number}`, { type: 'AddPlace', kind: 'chair', number, label: `${number}` }),
      ),
      ...basins.map((number, i) =>
        say(`model-day-basin-${number}`, { type: 'AddPlace', kind: 'basin', number, label: 'ABC'.charAt(i) }),
      ),
      ...people.map(({ id, name, roles }) => say(id, { type: 'AddPerson', name, roles })),
    ],
    products.map(({ id, name, source, rules }) =>
      say(id, { type: 'WriteDirections', directions: null, name, source, rules }, instructor),
    ),
    sold.map(({ id, name, passes }) => say(id, { type: 'WriteService', service: null, name, passes, limits })),
    [say('model-day-usual', { type: 'ChooseUsualService', service: 'service-relaxing' })],
  ];
}

/** Everybody comes on shift. */
export function beginningShifts(): readonly SettingUp[] {
  return people.map(({ id }) => ({
    id: `model-day-shift-${id}`,
    by: id,
    command: { type: 'BeginShift', person: id },
  }));
}

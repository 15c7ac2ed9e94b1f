import type { ProductClass } from '../../../../core/directions/product-class.ts';

/** The printed sheet for a client who leaves with product on. No label of theirs stands on it. */
export const sheet = {
  title: 'Rinse now',
  lead: 'Rinse this hair with plenty of water now.',
  lead2: 'Product is still on it. Do not wait until you are home.',
  classes: {
    hydroxide: 'a hydroxide relaxer (strongly alkaline)',
    thio: 'a perm or straightener with thioglycolate',
    lightener: 'a lightener (peroxide)',
    colour: 'a hair colour',
    other: 'a hair product',
  } satisfies Record<ProductClass, string>,
  unknownClass: 'a hair product; nobody wrote down which',
  what: 'On the hair',
  product: 'Product',
  unknownProduct: 'not written down: ask the salon',
  since: 'Since',
  sinceUnknown: 'not known: count it as too long already',
  left: 'Left the salon',
  steps: [
    'Rinse hair and scalp with plenty of water until it runs clear, and then go on for a while.',
    'In the eye: plenty of water for at least 15 minutes, and a physician at once.',
    'On the skin, if it burns, itches, weeps or hurts: very large amounts of water, go on until medical advice says stop.',
    'Get medical advice. Take this sheet and the name of the product with you.',
  ],
  first: 'The directions on the product, local rules and a licensed professional’s judgement come first.',
  source: 'Times under water: published first aid, DOE-HDBK-1015/2-93.',
  print: 'Print',
  back: 'Back to the chair',
  wait: 'Fetching the visit …',
  missing: 'This visit cannot be fetched now. Rinse with plenty of water all the same.',
  off: 'By what was marked here, the product is off this hair.',
} as const;

import type { Figures, Role } from '../../../../core/salon/salon.ts';
import type { EntryFault } from '../../salon/form/fault.ts';
import type { FirstStep } from '../../salon/form/resume.ts';
import { plurals } from '../plurals.ts';
import { salonBackups } from './salon-backups.ts';
import { salonDirections, salonPreview } from './salon-directions.ts';
import { salonReach } from './salon-reach.ts';

const { one } = plurals('en');

const between = (least: string | null, most: string | null): string =>
  least !== null && most !== null ? `From ${least} to ${most}, please.` : 'This is outside what is allowed.';

/** The salon's set-up. Whole sentences: they are read once, slowly. */
export const salon = {
  title: 'Salon',
  unnamed: 'Your salon',
  demonstration: 'This is the demonstration. Nothing here touches a real salon.',
  network:
    'Anyone on this network can act: seat, ring, change this page. Devices cannot be paired yet, so open it only on a network that you trust.',
  notThrough: 'The server does not answer. What you saved is being sent again; what you typed stays here.',
  lost: 'No link to the server. What is typed stays here; it can be stored when the link is back.',
  save: 'Save',
  saved: 'Saved',
  cancel: 'Cancel',
  change: 'Change',
  changeOf: (what: string) => `Change ${what}`,
  add: 'Add',
  retire: 'Retire',
  retireOf: (what: string) => `Retire ${what}`,
  retired: 'retired',
  saying: (n: number) => one(n, { one: 'One thing is not right yet.', other: `${n} things are not right yet.` }),
  optional: 'May be left empty.',
  units: {
    minutes: 'min',
    hours: 'hours',
    days: 'days',
    heads: 'heads',
    percent: '%',
    parts: 'parts',
    ph: 'pH',
    inches: 'inches',
    metres: 'm',
    times: 'times',
  },
  /** What is wrong with something typed, beside its field. */
  faults: {
    missing: () => 'This is needed.',
    'not-minutes': () => 'Write minutes: 12, 7.5 or 7:30.',
    negative: () => 'This cannot be less than nothing: leave the minus out.',
    'not-number': () => 'Write a number.',
    'not-whole': () => 'Write a whole number.',
    'too-long': (_least: string | null, most: string | null) => `At most ${most ?? ''} characters, please.`,
    'odd-signs': () => 'There is a sign in it that cannot be shown.',
    'no-zone': () => 'This is no time zone that this machine knows.',
    'number-taken': () => 'Another chair or basin has this number.',
    'label-taken': () => 'Another chair or basin has this label.',
    'name-taken': () => 'This name is on the list already.',
    softer: (less: string | null) =>
      less === null
        ? 'A more urgent level may not be softer than a lesser one.'
        : `A more urgent level may not be softer than a lesser one, which has ${less} %.`,
    'no-contact': () => salonReach.push.faults.contact,
    'out-of-range': between,
    'ceiling-missing': () => 'A product of this kind needs its longest time on hair, from its directions.',
    'max-below-min': (least: string | null) =>
      least === null
        ? 'The longest is shorter than the shortest.'
        : `The longest is shorter than the shortest, ${least} min.`,
    'ceiling-below-min': (least: string | null) =>
      least === null
        ? 'This is shorter than the least time on hair.'
        : `This is shorter than the least time on hair, ${least} min. Compare both with the leaflet.`,
    'parts-count': () => 'From one part to twelve.',
    'shares-sum': (sum: string | null) =>
      sum === null || sum === '100'
        ? 'The shares must come to 100\u00a0%, and none may be nothing.'
        : `The shares come to ${sum}\u00a0%. They must come to 100\u00a0%.`,
    'share-nothing': () => 'More than nothing, please, or remove the part.',
    'place-twice': (part: string | null) => `Same as part ${part ?? ''}: choose another, or “elsewhere”.`,
    'part-ceiling-above-head': (_least: string | null, most: string | null) =>
      most === null
        ? 'This is longer than the whole head’s: a part can only come off earlier.'
        : `The whole head’s is ${most} min: a part can only come off earlier.`,
    'heat-later': (_least: string | null, most: string | null) =>
      `Without heat it is ${most ?? ''} min: under heat nothing comes later.`,
    'step-twice': () => 'This step is there already.',
    'strip-limit-missing': () => 'Say the highest pH that counts as neutral.',
  } satisfies Record<EntryFault, (least: string | null, most: string | null) => string>,

  first: {
    title: 'Set up your salon',
    lead: 'Six steps until the first client can sit down. Each is stored as you save it; you can stop anywhere and come back.',
    done: 'done',
    now: 'now',
    ahead: 'not yet',
    step: (n: number, of: number) => `Step ${n} of ${of}`,
    steps: {
      salon: 'The salon',
      chairs: 'Chairs',
      basins: 'Basins',
      people: 'People',
      directions: 'A product’s directions',
      service: 'A service',
    } satisfies Record<FirstStep, string>,
    asks: {
      salon: 'Its name, where its clock is, its language.',
      chairs: 'How many, and what is written on them.',
      basins: 'How many, and what they are called.',
      people: 'Who works here.',
      directions: 'One product, copied from its leaflet.',
      service: 'What is sold with it.',
    } satisfies Record<FirstStep, string>,
    openStep: (step: string) => `Open: ${step}`,
    ready: 'The first client can sit down.',
    readyLead: 'Open what you need. Everything can be changed later on this page.',
    all: 'See all of the set-up',
    wall: 'Open the wall',
    chair: (label: string) => `Open chair ${label}`,
    pocket: 'Open the pocket',
    openHints: {
      wall: 'for the big screen',
      chair: 'for a tablet at the chair',
      pocket: 'for a phone',
    },
    goOn: 'Go on',
    open: 'Open',
  },
  index: {
    name: 'Parts of this page',
    chairs: 'Chairs',
    basins: 'Basins',
    people: 'People',
    directions: 'Directions',
    services: 'Services',
    wall: 'Wall',
    room: 'What the room hears and sees',
    reach: 'Who can be reached',
    push: 'Push',
    hooks: 'Lights and buzzers',
    times: 'Times',
    language: 'Name, zone, language',
    backups: 'Backups',
    look: 'Look',
  },
  identity: {
    name: 'Name of the salon',
    zone: 'Time zone',
    zoneNow: (clock: string) => `It is ${clock} there now.`,
    language: 'Language',
    hours: 'Hours',
    h23: (example: string) => `24 hours, ${example}`,
    h12: (example: string) => `12 hours, ${example}`,
    proposed: 'Proposed from this machine; change what is wrong.',
  },
  places: {
    howMany: { chair: 'How many chairs', basin: 'How many basins' },
    proposal: 'The label is what people read. The number is what a number pad types; it stays with its place for good.',
    basinProposal: 'Basins are numbered far from the chairs, so that a slip on a number pad hits no chair.',
    number: 'number',
    label: 'label',
    numberOf: (n: number) => `Number of place ${n}`,
    labelOf: (n: number) => `Label of place ${n}`,
    addThem: {
      chair: (n: number) => one(n, { one: 'Add this chair', other: `Add these ${n} chairs` }),
      basin: (n: number) => one(n, { one: 'Add this basin', other: `Add these ${n} basins` }),
    },
    more: { chair: 'Add chairs', basin: 'Add basins' },
    plate: { chair: (label: string) => `Chair ${label}`, basin: (label: string) => `Basin ${label}` },
    count: {
      chair: (n: number) => one(n, { one: 'one chair', other: `${n} chairs` }),
      basin: (n: number) => one(n, { one: 'one basin', other: `${n} basins` }),
    },
    onPad: (number: number) => `${number} on the number pad`,
    none: { chair: 'No chair yet.', basin: 'No basin yet.' },
    between: (most: number) => `From 1 to ${most}, please.`,
    gone: (labels: string) => `Retired: ${labels}`,
  },
  people: {
    name: 'Name',
    roles: 'Roles',
    rolesHint: 'As many as fit.',
    role: {
      stylist: 'stylist',
      assistant: 'assistant',
      senior: 'senior',
      reception: 'reception',
      manager: 'manager',
      owner: 'owner',
    } satisfies Record<Role, string>,
    noRole: 'no role',
    more: 'Add somebody',
    addThis: 'Add',
    another: 'Add another',
    none: 'Nobody yet.',
    hint: 'A first name or a short name, as people call each other on the floor.',
    gone: (names: string) => `Retired: ${names}`,
    count: (n: number) => one(n, { one: 'one person', other: `${n} people` }),
  },
  directions: salonDirections,
  preview: salonPreview,
  services: {
    lead: 'What is sold: its products in order, each with its directions.',
    name: 'Name',
    nameHint: 'As it is booked.',
    passes: 'Products in order',
    pass: (n: number) => `Product ${n}`,
    addPass: 'Add a product after it',
    removePass: (n: number) => `Remove product ${n}`,
    limits: 'Longest per stage',
    limitsHint: 'Somebody is asked when a stage lasts longer. Leave empty what needs no limit.',
    limitsShort: 'no limits',
    limit: (stage: string, minutes: string) => `${stage} ${minutes} min`,
    more: 'Add a service',
    none: 'None yet.',
    usual: 'usual',
    usualNote: 'Sold when somebody begins at an empty chair without naming a service.',
    makeUsual: 'Make it the usual one',
    retiredPass: (name: string) => `${name} (retired)`,
    gone: (names: string) => `Retired: ${names}`,
    save: 'Keep this service',
  },
  wall: {
    lead: 'Digits must be legible from the farthest place somebody works at.',
    diagonal: 'Diagonal of the screen',
    diagonalHint: 'Corner to corner of the picture, without the frame.',
    distance: 'Read from',
    distanceHint: 'The farthest place that must be able to read it.',
    pixels: 'Picture',
    pixelsOf: (width: number, height: number) => `${width} × ${height}`,
    thisScreen: (width: number, height: number) => `this screen, ${width} × ${height}`,
    digits: (mm: string, px: number) => `Digits will be ${mm} mm high: ${px} px.`,
    why: (arcmin: string, metres: string) =>
      `That is ${arcmin} arc minutes at ${metres} m. At least 20 are wanted (ISO 9241-303).`,
    fits: (lanes: number) =>
      one(lanes, { one: 'One chair fits on a wall.', other: `${lanes} chairs fit on one wall.` }),
    enough: (chairs: number) =>
      one(chairs, { one: 'Your one chair needs one wall.', other: `Your ${chairs} chairs need one wall.` }),
    walls: (chairs: number, walls: number) => `Your ${chairs} chairs need ${walls} walls: nearer or larger helps too.`,
    tooSmall: 'Nothing fits at this size and distance. Take a larger screen, or hang it nearer.',
    address: (n: number, address: string) => `Wall ${n}: ${address}`,
    bar: (mm: number) => `This bar is ${mm} mm long on a screen of that diagonal.`,
    barHint:
      'Open this page on the wall’s screen, full size, and lay a tape along the bar. If it measures something else, the diagonal is wrong or the page is scaled.',
    barNone: 'The bar does not fit here. Open this page on the wall’s screen.',
  },
  times: {
    lead: 'When bells ring, and how long something can be taken back. Defaults are common practice without a source.',
    figures: {
      walkMs: 'Walk to a basin',
      rinseLeadMs: 'Rinse bell before the close',
      soonMs: 'Soon, before the window',
      reserveMs: 'Reserve of the application',
      waterSureMs: 'Water that ends the time on hair',
      takeBackMs: 'A move can be taken back for',
    } satisfies Record<keyof Figures, string>,
    hints: {
      walkMs: 'From the farthest chair. The rinse bell rings that much earlier.',
      rinseLeadMs: 'Besides the walk.',
      soonMs: 'Shown, not sounded.',
      reserveMs: 'Kept free between the last touch and what the ceiling demands.',
      waterSureMs: 'So long at a known basin and the product counts as stopped.',
      takeBackMs: 'From the list of what was done.',
    } satisfies Record<keyof Figures, string>,
    range: (least: string, most: string) => `${least} to ${most}`,
  },
  reach: salonReach,
  backups: salonBackups,
  look: {
    lead: 'For this device only.',
    choice: 'Light or dark',
  },
} as const;

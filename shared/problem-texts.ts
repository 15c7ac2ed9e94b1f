import type { ProblemCode, ProblemDetails } from './problem-code.ts';

interface ProblemText {
  readonly status: number;
  readonly title: string;
  /** A sentence that says what to do; words of clients never appear in it. */
  readonly detail: (details: ProblemDetails) => string;
}

const at = ({ place }: ProblemDetails): string => (place === null ? 'That place' : `Place ${place}`);
const field = ({ field: name }: ProblemDetails): string => (name === null ? 'A field' : `Field "${name}"`);
const which = ({ field: name }: ProblemDetails): string => (name === null ? '' : ` (${name})`);
const wanted = ({ expected }: ProblemDetails): string => (expected === null ? '' : `: ${expected}`);

/** "RinseBegun at 2026-03-04T10:15:00.000Z by p-1234567" for what others did; the newest stands last. */
function done({ since }: ProblemDetails): string {
  const last = since.slice(-3);
  if (last.length === 0) return '';
  const told = last.map((one) => {
    const when = new Date(one.at).toISOString();
    return `${one.type} at ${when}${one.by === null ? '' : ` by ${one.by}`}`;
  });
  return ` Since then: ${told.join('; ')}.`;
}

const refused = (status: number, title: string, detail: ProblemText['detail']): ProblemText => ({
  status,
  title,
  detail,
});

/** Status by RFC 9110: 409 when the floor is not as the sender thought, 422 when the content cannot be right. */
export const problemTexts: Readonly<Record<ProblemCode, ProblemText>> = {
  'unknown-visit': refused(
    422,
    'No such visit',
    () => 'There is no such visit. Look at the floor again and choose it there.',
  ),
  'unknown-place': refused(
    422,
    'No such place',
    (d) => `${at(d)} does not exist or is retired. Name a chair or basin of this salon.`,
  ),
  'unknown-person': refused(422, 'No such person', () => 'Nobody of that id works here. Choose a name of this salon.'),
  'unknown-service': refused(
    422,
    'No such service',
    () => 'There is no such service, or it is retired. Choose one that the salon sells.',
  ),
  'unknown-directions': refused(
    422,
    'No such directions',
    () => 'There are no such directions, or they are retired. Write or choose others.',
  ),
  'unknown-part': refused(
    422,
    'No such part',
    (d) => `The directions have no such part${which(d)}. Name one that is not done yet.`,
  ),
  'unknown-moment': refused(
    422,
    'No such moment',
    () => 'The visit has no such moment to correct. Choose one from what was done.',
  ),
  'already-done': refused(409, 'Already done', (d) => `This has been done already.${done(d)} Nothing more is needed.`),
  'moved-on': refused(
    409,
    'The visit moved on',
    (d) =>
      `The visit has changed since you looked.${done(d)} Look at it again; what you said can be entered as a correction.`,
  ),
  'wrong-stage': refused(
    409,
    'Not in this stage',
    () => 'This does not fit the stage the visit is in. Look at its stage and choose what comes next.',
  ),
  'product-on': refused(
    409,
    'Product is on',
    (d) =>
      `Product is on this head${d.place === null ? '' : ` at ${d.place}`}. First water on, or move the visit, or abandon it.`,
  ),
  'place-taken': refused(409, 'Chair taken', (d) => `${at(d)} is taken. Choose a free chair.`),
  'number-taken': refused(409, 'Number taken', (d) => `${at(d)} exists already. Choose another number.`),
  'label-taken': refused(409, 'Label taken', () => 'Another chair or basin has this label. Choose another label.'),
  'name-taken': refused(409, 'Name taken', () => 'This name is in use already. Choose another name.'),
  'service-needed': refused(
    422,
    'Service needed',
    () => 'Say which service it is, or choose a usual service in the salon page.',
  ),
  'person-needed': refused(422, 'Person needed', () => 'Say who you are: choose your name on this device first.'),
  'reason-needed': refused(422, 'Reason needed', () => 'This needs a reason. Send it again with one.'),
  'nothing-to-take-back': refused(
    409,
    'Nothing to take back',
    () => 'The last move can no longer be taken back. Correct its time, or go on from here.',
  ),
  'bell-gone': refused(409, 'The bell has ended', () => 'This bell no longer stands. Nothing is left to take.'),
  'time-in-future': refused(
    422,
    'In the future',
    (d) => `${field(d)} lies in the future. Give the time at which it happened.`,
  ),
  'time-too-old': refused(
    422,
    'Too long ago',
    (d) => `${field(d)} lies too far back. Enter it as a correction of the visit instead.`,
  ),
  'times-cross': refused(
    422,
    'Times cross',
    (d) => `${field(d)} would cross a neighbouring step. Give a time between the step before and the step after.`,
  ),
  'directions-contradict': refused(
    422,
    'Directions contradict themselves',
    (d) => `${field(d)} contradicts the other figures. Compare it with the leaflet.`,
  ),
  'out-of-range': refused(
    422,
    'Out of range',
    (d) => `${field(d)} is outside what is allowed. Check the figure and its unit.`,
  ),
  'not-allowed': refused(
    403,
    'Not yours to do',
    () =>
      'A limit may be raised for one head only by a senior, a manager or the owner. Ask one of them to choose their name and do it; lowering is open to everybody.',
  ),
  'against-directions': refused(
    422,
    'Against the directions',
    () =>
      'The directions of this product say never to use heat. Leave it off; if the leaflet says otherwise, correct the directions first.',
  ),
  'cover-not-here': refused(
    409,
    'The cover is not here',
    () => 'Whoever is to cover is not on shift, is away, or is the same person. Choose somebody who is here.',
  ),
  'in-use': refused(409, 'In use', () => 'This is in use. End or change what uses it first.'),
  'invalid-json': refused(400, 'Not JSON', () => 'The body is not JSON. Check quotes, commas and brackets.'),
  'invalid-body': refused(
    400,
    'Body not understood',
    (d) => `${field(d)} was not understood${wanted(d)}. Correct it and send it again.`,
  ),
  'unsupported-media-type': refused(415, 'Wrong content type', () => 'Send the body as application/json.'),
  'too-large': refused(413, 'Too large', (d) => `The body is too large${wanted(d)}. Send less at once.`),
  'not-found': refused(
    404,
    'Nothing here',
    () => 'There is nothing under this address. /api/v1/openapi.json lists what there is.',
  ),
  'method-not-allowed': refused(
    405,
    'Method not allowed',
    (d) => `This address does not take that method${wanted(d)}.`,
  ),
  'id-reused': refused(
    409,
    'Id used before',
    () => 'This id was used before with another body. Make a new id for a new command.',
  ),
  again: refused(
    503,
    'Try again',
    () =>
      'This could not be stored just now, and nothing was changed. Send the same command again in a moment; water on and burns are taken all the same.',
  ),
  'foreign-origin': refused(
    403,
    'Foreign page',
    () => 'A page of another address may not act here. Open the page that this server serves.',
  ),
  'loopback-only': refused(
    403,
    'Only from this machine',
    () => 'This is for the machine that runs the server. Call it from there.',
  ),
  'push-off': refused(
    409,
    'Pushes are off',
    () => 'Bells do not go to phones by push here. The owner can turn that on on the salon page.',
  ),
  'not-subscribed': refused(
    404,
    'No subscription',
    () => 'The server keeps no push subscription of this device. Open the pocket page on it and turn pushes on there.',
  ),
  'receipt-unknown': refused(
    422,
    'Not a receipt of ours',
    () => 'This server sent no push with that receipt, or not to whoever holds the device now. Nothing was recorded.',
  ),
  'receipt-too-old': refused(
    410,
    'Receipt too old',
    () => 'The push that this receipt belongs to was shown too long ago to count. Nothing was recorded.',
  ),
  'unknown-protocol': refused(
    400,
    'Another version',
    (d) => `This page and the server are of different versions${wanted(d)}. Reload the page.`,
  ),
  'unknown-event': refused(400, 'Unknown packet', () => 'The server knows no packet of that name. Reload the page.'),
  'bad-packet': refused(
    400,
    'Packet not understood',
    (d) => `${field(d)} of a packet was not understood${wanted(d)}. Reload the page.`,
  ),
  failed: refused(
    500,
    'Failed',
    () => 'The server made a mistake. What was sent may not have been done: look at the floor, then try again.',
  ),
};

export const problemCodes = Object.keys(problemTexts) as readonly ProblemCode[];

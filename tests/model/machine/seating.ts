import { assign } from 'xstate';
import * as act from './acts.ts';
import { productOn, type Head, type Stage } from './head.ts';
import { ring } from './ringing.ts';
import type { Heard, Said } from './said.ts';
import type { World } from './transitions.ts';

/** Chair commands at an empty chair (or one whose visit may end) make a new visit; what follows is the same touch (S9). */
function seating(
  target: Stage,
  deed: (seated: Head, said: Said, now: number) => Head,
  only: (head: Head | null, said: Said) => boolean,
) {
  return {
    target: `#visit.${target}`,
    guard: ({ context, event }: { context: World; event: Heard }) => only(context.head, event as Said),
    actions: assign(({ context, event }: { context: World; event: Heard }) => {
      const said = event as Said;
      const service =
        said.type === 'SeatVisit' ? said.service : said.type === 'BeginApplication' ? (said.service ?? 0) : null;
      const offer = service === null ? null : (context.offers[service] ?? null);
      // S9: whoever begins with a head has it; a seating alone gives it to nobody here.
      const stylist = said.type === 'SeatVisit' ? null : said.by;
      const seated = { ...act.seat(context.head, context.serials + 1, offer, context.now), stylist };
      const after = act.inOneTouch(seated, deed({ ...seated, acts: 0 }, said, context.now));
      return { answer: 'done', serials: context.serials + 1, head: ring(after, context.now) };
    }),
  };
}

const always = () => true;
const justSeat = (head: Head) => head;
const beginOn = (head: Head, said: Said, now: number) => act.begin(head, said.by, now);
const waterOn = (head: Head, said: Said, now: number) =>
  act.water(head, said.by, said.type === 'BeginRinse' && said.basin, now);
const burnOn = (head: Head, said: Said, now: number) =>
  act.burn(head, said.type === 'ReportBurns' ? said.place : 'skin', now);
export const atEmptyChair = {
  SeatVisit: [seating('prep', justSeat, always)],
  BeginApplication: [seating('apply', beginOn, always)],
  BeginRinse: [seating('rinse', waterOn, always)],
  ReportBurns: [seating('rinse', burnOn, always)],
};

/** With nobody's product on, the chair's next client may be seated, by Begin too where no further pass waits. */
const productOff = (head: Head | null) => head !== null && !productOn(head);
export const seatNext = {
  SeatVisit: [seating('prep', justSeat, productOff)],
  BeginApplication: [
    seating('apply', beginOn, (head, said) => productOff(head) && said.type === 'BeginApplication' && said.byChair),
  ],
};

import * as act from './acts.ts';
import type { Head, Stage } from './head.ts';
import { alreadyDone, here, type Line, type Table } from './said.ts';

/** What is said of a head beside its steps: that it tingles, and whose it is from now on. */
export const beside = (stage: Stage): Table => ({
  ReportTingles: [
    { when: (head) => head.tingles !== null && head.tingles.answer === null, ...alreadyDone },
    {
      to: here(stage),
      act: (head, _, now) => act.moved(head, { ...head, tingles: { at: now, answer: null } }, now),
    },
  ],
  AnswerTingles: [
    { when: (head) => head.tingles !== null && head.tingles.answer !== null, ...alreadyDone },
    {
      when: (head) => head.tingles !== null,
      to: here(stage),
      act: (head, said, now) => act.moved(head, act.tinglesAnswered(head, said.answer), now),
    },
  ],
  OfferHead: [
    { when: (_, said) => said.to === 'person-nobody', refuse: 'unknown-person' },
    { when: (head, said) => head.stylist === said.to || head.offered === said.to, ...alreadyDone },
    { to: here(stage), act: (head, said, now) => act.noted(head, { ...head, offered: said.to }, now) },
  ],
  AnswerOffer: [
    {
      when: (head, said) => head.offered === null && said.accept && said.by !== null && head.stylist === said.by,
      ...alreadyDone,
    },
    { when: (head, said) => head.offered !== null && said.accept && said.by === null, refuse: 'person-needed' },
    { when: (head, said) => head.offered !== null && said.accept && said.by !== head.offered, refuse: 'not-allowed' },
    {
      when: (head) => head.offered !== null,
      to: here(stage),
      act: (head, said, now) => {
        const stylist = said.accept ? head.offered : head.stylist;
        return act.noted(head, { ...head, stylist, offered: null }, now);
      },
    },
  ],
});

/** R3: "I can't" takes back an "I'll go", stands as long as the level does, and is no act at the head. */
export const passBell = (stage: Stage): Line<'PassBell'>[] => [
  { when: (_, said) => said.by === null, refuse: 'person-needed' },
  { when: (head, said) => head.bells[said.cause] === undefined, refuse: 'bell-gone' },
  {
    when: (head, said) => {
      const bell = head.bells[said.cause];
      return said.by !== null && bell?.passed.includes(said.by) === true && bell.taken?.by !== said.by;
    },
    ...alreadyDone,
  },
  { to: here(stage), act: (head, said) => cannot(head, said.cause, said.by) },
];

function cannot(head: Head, cause: keyof Head['bells'], by: string | null): Head {
  const bell = head.bells[cause];
  if (bell === undefined || by === null) return head;
  const passed = [...bell.passed.filter((one) => one !== by), by];
  const taken = bell.taken?.by === by ? null : bell.taken;
  return { ...head, bells: { ...head.bells, [cause]: { ...bell, passed, taken } } };
}

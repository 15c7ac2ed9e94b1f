import * as work from './application.ts';
import { passOf, stages, type Head, type Stage } from './head.ts';
import { alreadyDone, doesNotFit, here, type Line } from './said.ts';

/** What is said of parts, strand tests, heat and limits. */
const inApplication = (head: Head) => head.stage === 'apply' || head.stage === 'process';
/** X3: late is what precedes the latest act or lies further back than half an hour. */
const late = (head: Head, said: { ago: number | null }, now: number) =>
  said.ago !== null && (said.ago > 1800 || now - said.ago < head.latestAt);
/** X3: a forgotten part, though, lies between first touch and the end of application. */
export function forgotten(head: Head, said: { ago: number | null }, now: number): boolean {
  const pass = passOf(head);
  if (said.ago === null || said.ago > 1800 || pass.begun === null || !inApplication(head)) return false;
  const at = now - said.ago;
  return at >= pass.begun.at && (pass.applied === null || at <= pass.applied.at);
}
export const tooLateToMark: Line<'MarkPartDone'>[] = stages
  .filter((stage) => stage !== 'none' && stage !== 'finished')
  .map((stage) => ({
    when: (head, said, now) => head.stage === stage && late(head, said, now) && !forgotten(head, said, now),
    refuse: 'moved-on',
    to: [stage],
    act: (head, _, now) => work.stated(head, now),
  }));
export const unfitPart: Line<'MarkPartDone'>[] = [
  {
    when: (head, said) => said.part !== null && said.part >= (passOf(head).leaflet?.parts.length ?? 0),
    refuse: 'unknown-part',
  },
  { when: (head, said) => passOf(head).parts.some((one) => one.part === said.part), ...alreadyDone },
  { when: (head, said) => said.part === null && work.nextOfPlan(head) === null, refuse: 'unknown-part' },
];
export const markPart: Line<'MarkPartDone'>[] = [
  {
    when: (head, said, now) => said.ago === null || forgotten(head, said, now),
    to: ['apply', 'process'],
    act: (head, said, now) => work.markPart(head, said.part, said.by, said.ago ?? 0, now),
  },
];
export const testStrand: Line<'TestStrand'>[] = [
  {
    when: (head, said) => said.part !== null && said.part >= (passOf(head).leaflet?.parts.length ?? 0),
    refuse: 'unknown-part',
  },
  // Each part comes off by itself: a strand speaks for its own (E6).
  { when: (head, said) => passOf(head).leaflet?.byPart === true && said.part === null, refuse: 'unknown-part' },
  // Once the whole head is ready nothing is left to test (E6).
  {
    when: (head) => passOf(head).leaflet?.byPart === false && passOf(head).tests.some((one) => one.ready),
    ...alreadyDone,
  },
  { to: ['apply', 'process'], act: (head, said, now) => work.testStrand(head, said, now) },
];
export const setHeat: Line<'SetHeat'>[] = [
  {
    when: (head, said) => said.on && passOf(head).leaflet?.heat === 'never',
    refuse: 'against-directions',
  },
  { when: (head, said) => passOf(head).heat === said.on, ...alreadyDone },
  { to: ['apply', 'process'], act: (head, said, now) => work.setHeat(head, said.on, now) },
];
const mayRaise = (by: string | null) => by === 'person-sena';
export const setLimits = (stage: Stage): Line<'SetLimits'>[] => [
  { when: (head) => passOf(head).leaflet === null, ...doesNotFit },
  { when: (_, said) => work.outOfRange(said), refuse: 'out-of-range' },
  { when: (head, said) => work.contradicts(head, said), refuse: 'directions-contradict' },
  { when: (head, said) => work.raises(head, said) && !mayRaise(said.by), refuse: 'not-allowed' },
  { when: (head, said) => work.raises(head, said) && said.reason === null, refuse: 'reason-needed' },
  { to: here(stage), act: (head, said, now) => work.setLimits(head, said, now) },
];

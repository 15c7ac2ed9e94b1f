import { beforeEach, describe, expect, it } from 'vitest';
import { actedFor } from '../../../core/bells/bell.ts';
import { HOUR, MINUTE, SECOND } from '../../../core/time.ts';
import { aboutHead } from '../../../web/src/pocket/about-head.ts';
import { headsOf } from '../../../web/src/pocket/due-order.ts';
import { offerNews, offerOf, offersOf } from '../../../web/src/pocket/hand-over.ts';
import { HandOvers } from '../../../web/src/pocket/hand-overs.svelte.ts';
import { coveredBy, hereBut, shiftOf } from '../../../web/src/pocket/my-shift.ts';
import { waterOffer } from '../../../web/src/pocket/water-offer.ts';
import { whyMe, whyQuiet, type WhyMe } from '../../../web/src/pocket/why-me.ts';
import { floorAdvice, whyWords } from '../../../web/src/pocket/why-words.ts';
import { words } from '../../../web/src/words/words.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';

const [AMA, JOSS, WIL, KIT] = ['person-ama', 'person-joss', 'person-wil', 'person-kit'];
const w = words();
let life: FloorLife;
let visit: string;

/** Ama's head at 4, applied by noon + 15; its close is at 30, so that `rinse` rings at 27. Joss, Wil and Kit are there too. */
beforeEach(() => {
  life = FloorLife.salon();
  life.do({ type: 'AddPerson', name: 'Wil', roles: ['stylist'] }, { id: WIL });
  life.do({ type: 'AddPerson', name: 'Kit', roles: ['manager'] }, { id: KIT });
  for (const person of [AMA, JOSS, WIL, KIT]) life.do({ type: 'BeginShift', person });
  visit = life.do({ type: 'SeatVisit', chair: 4, service: 'service-1', stylist: AMA, label: null });
  life.do({ type: 'BeginApplication', chair: 4, visit, service: null });
  life.at(15);
  life.do({ type: 'FinishApplication', visit });
});

const bells = () => new StagedSession(life).mirror.bells;
const people = () => life.floor.people;
const why = (person: string): WhyMe | null => {
  const standing = bells().find(({ bell }) => bell.level !== 'NOTICE');
  if (standing === undefined) throw new Error('no bell stands');
  return whyMe(standing, person, { people: people(), now: life.now });
};
const receive = (person: string) =>
  life.receive([{ person, bell: { visit, chair: null, cause: 'off', episode: 1, level: 'WARNING' } }]);

describe('why a bell came to somebody', () => {
  it('[R6] nothing is said of one\u2019s own head; the helper is the one free pair of hands', () => {
    life.at(27);
    expect(why(AMA)).toBeNull();
    expect(why(JOSS)).toEqual({ why: 'free-hands' });
  });
  it('[R6] nobody had taken it', () => {
    life.at(27);
    receive(AMA);
    receive(JOSS);
    life.pass(0.8);
    expect(why(WIL)).toEqual({ why: 'untaken' });
    life.pass(0.8);
    expect(why(KIT)).toEqual({ why: 'untaken' });
  });
  it('[R7] it was not shown to whose head it is', () => {
    life.at(27);
    const [standing] = bells();
    if (standing === undefined) throw new Error('no bell stands');
    const missed = { ...standing, bell: { ...standing.bell, circle: 1 as const, unreached: [AMA] } };
    const floor = { people: people(), now: life.now };
    expect(whyMe(missed, WIL, floor)).toEqual({ why: 'not-shown', of: AMA });
    const later = { ...missed, bell: { ...missed.bell, shown: [{ person: AMA, at: life.now }] } };
    expect(whyMe(later, WIL, floor)).toEqual({ why: 'untaken' });
  });
  it('[R3] somebody cannot, or went and it still stands', () => {
    life.at(27);
    life.do({ type: 'PassBell', visit, chair: null, cause: 'off' }, { by: AMA });
    expect(why(WIL)).toEqual({ why: 'cannot', of: AMA });
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: JOSS });
    life.pass(1.5);
    expect(why(WIL)).toEqual({ why: 'went', of: JOSS });
  });
  it('[R6] they cover for its stylist, or it is being handed over to them', () => {
    life.at(26);
    life.do({ type: 'GoAway', person: AMA, forMs: 10 * MINUTE, cover: WIL }, { by: AMA });
    life.at(27);
    expect(why(WIL)).toEqual({ why: 'covering', of: AMA });
    life.do({ type: 'ComeBack', person: AMA });
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    expect(why(WIL)).toEqual({ why: 'offered', of: AMA });
  });
  it('[R6] its stylist has left, or none is named', () => {
    life.do({ type: 'EndShift', person: AMA });
    life.do({ type: 'EndShift', person: JOSS });
    life.do({ type: 'EndShift', person: KIT });
    life.at(27);
    expect(why(WIL)).toEqual({ why: 'not-here', of: AMA });
    life.do({ type: 'NameStylist', visit, stylist: null });
    expect(why(WIL)).toEqual({ why: 'nobody-named' });
  });
  it('[R6] DANGER calls everyone, which whose head it is need not be told', () => {
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'eye' });
    expect(why(WIL)).toEqual({ why: 'everyone' });
    expect(why(AMA)).toBeNull();
  });
  it('is said with names', () => {
    const { mirror } = new StagedSession(life);
    expect(whyWords({ why: 'not-shown', of: AMA }, mirror, w)).toBe('Not shown to Ama');
    expect(whyWords({ why: 'untaken' }, mirror, w)).toBe('Nobody had taken it');
    expect(floorAdvice('nobody-reached', mirror, w)).toContain('Product is on at 4.');
    expect(floorAdvice('rinse', mirror, w)).toBeNull();
  });
  it('[R3] a bell without sound says that one is at the head, or that somebody else is', () => {
    life.at(26);
    life.do({ type: 'SetHeat', visit, on: false }, { by: AMA });
    life.at(27);
    const standing = bells().find(({ bell }) => bell.kind === 'rinse');
    if (standing === undefined) throw new Error('no bell stands');
    expect(whyQuiet(standing, AMA, life.now)).toBe('you');
    expect(whyQuiet(standing, JOSS, life.now)).toBe('other');
    expect(whyQuiet(standing, AMA, life.now + actedFor)).toBeNull();
  });
});

describe('shift and absence on a phone', () => {
  it('[R6] off, on since, away until, and over by its length', () => {
    const shift = (now = life.now) => shiftOf(people()[AMA], now);
    expect(shiftOf(undefined, NOON)).toEqual({ kind: 'off', expired: false });
    expect(shift()).toEqual({ kind: 'on', sinceAt: NOON });
    expect(shift(NOON + 16 * HOUR)).toEqual({ kind: 'off', expired: true });
    life.do({ type: 'GoAway', person: AMA, forMs: 5 * MINUTE, cover: WIL });
    expect(shift()).toEqual({ kind: 'away', untilAt: life.now + 5 * MINUTE, cover: WIL });
    expect(shift(life.now + 5 * MINUTE)).toEqual({ kind: 'on', sinceAt: NOON });
    life.do({ type: 'EndShift', person: AMA });
    expect(shift()).toEqual({ kind: 'off', expired: false });
  });
  it('[R6] only who is here can cover or take over, and a cover sees those heads as theirs', () => {
    expect(hereBut(people(), [AMA], life.now)).toEqual([JOSS, KIT, WIL]);
    life.do({ type: 'EndShift', person: KIT });
    life.do({ type: 'GoAway', person: AMA, forMs: 5 * MINUTE, cover: WIL });
    expect(hereBut(people(), [WIL], life.now)).toEqual([JOSS]);
    expect(coveredBy(WIL, people(), life.now).map(({ id }) => id)).toEqual([AMA]);
    expect(coveredBy(WIL, people(), life.now + 5 * MINUTE)).toEqual([]);
    const { mirror, context } = new StagedSession(life);
    const mine = headsOf(WIL, mirror.chairs, context, mirror.bells, [AMA]).mine;
    expect(mine.map(({ number }) => number)).toEqual([4]);
    expect(headsOf(WIL, mirror.chairs, context, mirror.bells).mine).toEqual([]);
  });
  it('a row says whose the head is, who covers, and to whom it is offered', () => {
    const about = (person: string) => {
      const session = new StagedSession(life);
      return aboutHead(life.facts(visit), person, session, w);
    };
    expect(about(AMA)).toBeNull();
    expect(about(WIL)).toBe('Ama');
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    expect(about(AMA)).toBe('offered to Wil');
    expect(about(WIL)).toBe('Ama · offered to you');
    life.do({ type: 'GoAway', person: AMA, forMs: 5 * MINUTE, cover: JOSS });
    expect(about(KIT)).toBe('Ama away until 13:20, Joss covers · offered to Wil');
  });
});

describe('handing a head over', () => {
  const visits = () => [life.facts(visit)];

  it('stands to each as theirs to answer, or as waiting', () => {
    expect(offerOf(life.facts(visit), WIL)).toBeNull();
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    expect(offerOf(life.facts(visit), WIL)).toEqual({ kind: 'to-me', from: AMA });
    expect(offerOf(life.facts(visit), AMA)).toEqual({ kind: 'waits', to: WIL });
    expect(offersOf(visits(), AMA)).toEqual([{ visit, to: WIL }]);
    expect(offersOf(visits(), WIL)).toEqual([]);
    expect(offersOf(visits(), null)).toEqual([]);
  });
  it('whoever offered it is told what came of it', () => {
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    const before = offersOf(visits(), AMA);
    expect(offerNews(before, visits())).toEqual([]);
    life.do({ type: 'AnswerOffer', visit, accept: false }, { by: WIL });
    expect(offerNews(before, visits())).toEqual([{ visit, to: WIL, accepted: false }]);
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    life.do({ type: 'AnswerOffer', visit, accept: true }, { by: WIL });
    expect(offerNews(before, visits())).toEqual([{ visit, to: WIL, accepted: true }]);
    expect(offerNews(before, [])).toEqual([]);
  });
  it('offered to another meanwhile is no answer', () => {
    life.do({ type: 'OfferHead', visit, to: WIL }, { by: AMA });
    const before = offersOf(visits(), AMA);
    life.do({ type: 'OfferHead', visit, to: JOSS }, { by: AMA });
    expect(offerNews(before, visits())).toEqual([]);
  });
  it('on a phone: accepted and declined are news until read, taken back by oneself is none', () => {
    const session = new StagedSession(life);
    session.person = AMA;
    const overs = new HandOvers(session.session);
    const look = () => {
      session.show();
      overs.look();
    };
    look();
    overs.offer(life.facts(visit), WIL);
    look();
    expect(overs.news).toEqual([]);
    overs.takeBack(life.facts(visit));
    look();
    expect(life.facts(visit).offered).toBeNull();
    expect(overs.news).toEqual([]);
    overs.offer(life.facts(visit), WIL);
    look();
    life.do({ type: 'AnswerOffer', visit, accept: true }, { by: WIL });
    look();
    look();
    expect(overs.news).toEqual([{ visit, to: WIL, accepted: true }]);
    for (const one of overs.news) overs.read(one);
    look();
    expect(overs.news).toEqual([]);
  });
  it('of one head only the last answer is news', () => {
    const session = new StagedSession(life);
    session.person = AMA;
    const overs = new HandOvers(session.session);
    for (const accept of [false, false, true]) {
      overs.offer(life.facts(visit), WIL);
      session.show();
      overs.look();
      life.do({ type: 'AnswerOffer', visit, accept }, { by: WIL });
      session.show();
      overs.look();
    }
    expect(overs.news).toEqual([{ visit, to: WIL, accepted: true }]);
  });
  it('news of one holder is not shown to the next', () => {
    const session = new StagedSession(life);
    session.person = AMA;
    const overs = new HandOvers(session.session);
    overs.offer(life.facts(visit), WIL);
    session.show();
    overs.look();
    life.do({ type: 'AnswerOffer', visit, accept: true }, { by: WIL });
    session.person = JOSS;
    session.show();
    overs.look();
    expect(overs.news).toEqual([]);
  });
});

describe('water beside a bell', () => {
  const offer = (kind: Parameters<typeof waterOffer>[1]) =>
    waterOffer(life.facts(visit), kind, new StagedSession(life).mirror.basins);

  it('is on at the first free basin; the others are beside it', () => {
    life.do({ type: 'BeginRinse', chair: 1, visit: null, basin: 91 });
    expect(offer('rinse')?.main.command).toEqual({ type: 'BeginRinse', chair: 4, visit, basin: 92 });
    expect(offer('rinse')?.others.map(({ basin }) => basin)).toEqual([91]);
  });
  it('[S6] answers what tingles and what burns, and nothing that water does not help', () => {
    expect(offer('tingles')).not.toBeNull();
    expect(offer('test')).toBeNull();
    expect(offer('burns')).toBeNull();
    life.do({ type: 'ReportBurns', chair: 4, visit, place: 'skin' });
    expect(offer('burns')?.main.basin).toBe(91);
    life.pass(SECOND / MINUTE);
    life.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    expect(offer('burns')).toBeNull();
    expect(offer('tingles')).toBeNull();
  });
});

import { describe, expect, it } from 'vitest';
import { FrontFacts } from '../../../web/src/front/front-facts.svelte.ts';
import { HandTimers } from '../support/hand-timers.ts';

const about = { protocol: 1, run: 'r', lan: false, addresses: [], handClock: false, modelDay: true };
const floor = { revision: 3, run: 'r', entities: {} };

describe('what the first page asks', () => {
  it('knows nothing before the first answer', () => {
    const facts = new FrontFacts(async () => null, new HandTimers());
    expect([facts.answered, facts.about]).toEqual([null, null]);
  });
  it('takes the floor and what the server is', async () => {
    const facts = new FrontFacts(async (path) => (path.endsWith('about') ? about : floor), new HandTimers());
    await facts.look();
    expect(facts.answered).toBe(true);
    expect(facts.about).toEqual(about);
    expect(facts.mirror.revision).toBe(3);
  });
  it('keeps what it knew when the server is gone, and says that it is gone', async () => {
    let there = true;
    const ask = async (path: string): Promise<unknown> => {
      if (!there) throw new TypeError('no route');
      return path.endsWith('about') ? about : floor;
    };
    const facts = new FrontFacts(ask, new HandTimers());
    await facts.look();
    there = false;
    await facts.look();
    expect(facts.answered).toBe(false);
    expect(facts.about).toEqual(about);
  });
});

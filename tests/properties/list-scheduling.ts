/** What really happened at one head, in minutes since first touch: who is there since when, and who did which part when. */
export interface Story {
  nominal: number;
  /** Share of each part of the plan. */
  shares: number[];
  /** The minute from which each pair of hands is there; the first is whoever began, at 0. */
  there: number[];
  /** Parts done, each by a pair of hands, in the order in which they were done. */
  done: { part: number; by: number; at: number }[];
}

/** A part has its begin where the same hands finished before it, or came. */
function begins(story: Story): number[] {
  return story.done.map(({ by, at }, i) => {
    const before = story.done.slice(0, i).filter((one) => one.by === by);
    return Math.min(at, before.at(-1)?.at ?? story.there[by] ?? 0);
  });
}

/** P1 in its own words: mean of the plan's one part and the parts done, weighed by their shares. */
function lengthOf(story: Story, part: number): number {
  const n = story.shares.length;
  const took = story.done.map(({ at }, i) => at - (begins(story)[i] ?? 0));
  const sum = (numbers: number[]) => numbers.reduce((a, b) => a + b, 0);
  const whole = (story.nominal / n + sum(took)) / (1 / n + sum(story.done.map((one) => story.shares[one.part] ?? 0)));
  return whole * (story.shares[part] ?? 0);
}

/**
 * P2 by brute force: the clock is walked from one instant at which somebody is free to the next, and whoever is free then takes
 * the next part of the plan that nobody has begun. What is in work now has been so since its hands were free, and cannot
 * have ended before now. Nothing is sorted or searched for but the next instant.
 */
export function finishByWalking(story: Story, now: number): number {
  const left = story.shares.map((_, part) => part).filter((part) => !story.done.some((one) => one.part === part));
  const freeAt = story.there.map((from, who) => {
    const own = story.done.filter((one) => one.by === who).map((one) => one.at);
    return Math.max(from, ...own);
  });
  const inWork = freeAt.map(() => true);
  let last = now;
  for (let at = Math.min(...freeAt); left.length > 0; at = Math.min(...freeAt.filter((one) => one > at))) {
    for (const who of freeAt.keys()) {
      if (freeAt[who] !== at || left.length === 0) continue;
      const length = lengthOf(story, left.shift() ?? 0);
      // Begun before now, it is in work: not over before now.
      const end = inWork[who] && at <= now ? Math.max(at + length, now) : at + length;
      inWork[who] = false;
      freeAt[who] = end;
      last = Math.max(last, end);
    }
  }
  return last;
}

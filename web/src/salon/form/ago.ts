/** How long ago something was, in words of a language. */
export interface AgoWords {
  readonly minutesAgo: (n: number) => string;
  readonly hoursAgo: (n: number) => string;
  readonly daysAgo: (n: number) => string;
}

/** In the largest unit that is whole at least once, rounded down; what seems to lie ahead is now. */
export function agoText(minutes: number, words: AgoWords): string {
  const whole = Math.max(0, Math.floor(minutes));
  if (whole < 60) return words.minutesAgo(whole);
  if (whole < 24 * 60) return words.hoursAgo(Math.floor(whole / 60));
  return words.daysAgo(Math.floor(whole / (24 * 60)));
}

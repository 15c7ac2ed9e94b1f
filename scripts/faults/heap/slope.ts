/** One measurement: how much is held after collection, and when. */
export interface Point {
  readonly at: number;
  readonly bytes: number;
}

/** Least squares over the points: how much grows from the first to the last of them, as a share of their mean. */
export function growthOver(points: readonly Point[]): number {
  const n = points.length;
  const first = points[0];
  const last = points[n - 1];
  if (first === undefined || last === undefined || first.at === last.at) return 0;
  const mean = (of: (point: Point) => number): number => points.reduce((sum, point) => sum + of(point), 0) / n;
  const at = mean((point) => point.at);
  const bytes = mean((point) => point.bytes);
  const covariance = mean((point) => (point.at - at) * (point.bytes - bytes));
  const variance = mean((point) => (point.at - at) ** 2);
  return ((covariance / variance) * (last.at - first.at)) / bytes;
}

/** The last half of them, by time. */
export function lastHalf(points: readonly Point[]): readonly Point[] {
  const first = points[0]?.at ?? 0;
  const last = points[points.length - 1]?.at ?? 0;
  return points.filter(({ at }) => at >= (first + last) / 2);
}

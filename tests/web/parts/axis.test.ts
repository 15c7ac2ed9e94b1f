import { describe, expect, it } from 'vitest';
import { axisAtScale, nowX, snap, stretch, ticks, wallAxis, xOf } from '../../../web/src/parts/geometry/axis.ts';

const MINUTE = 60_000;
const NOW = 1_800_000_000_000;
// 27 minutes on 648 px: 24 px a minute.
const axis = wallAxis(648);

describe('the shared axis', () => {
  it('the now-line stands five minutes in', () => expect(nowX(axis)).toBeCloseTo(120, 9));
  it('an instant lies 24 px to the minute from it, later to the right', () => {
    expect(xOf(axis, NOW, NOW)).toBeCloseTo(120, 9);
    expect(xOf(axis, NOW + 10 * MINUTE, NOW)).toBeCloseTo(360, 9);
    expect(xOf(axis, NOW - 5 * MINUTE, NOW)).toBeCloseTo(0, 9);
    expect(xOf(axis, NOW + 22 * MINUTE, NOW)).toBeCloseTo(648, 9);
  });
  it('everything slides left as time passes', () => {
    expect(xOf(axis, NOW + 10 * MINUTE, NOW + MINUTE)).toBeCloseTo(336, 9);
  });
  it('ticks stand every five minutes from −5 to +20', () => {
    expect(ticks(axis).map((tick) => tick.minutes)).toEqual([-5, 0, 5, 10, 15, 20]);
    expect(ticks(axis).map((tick) => Math.round(tick.x))).toEqual([0, 120, 240, 360, 480, 600]);
  });
  it('a tick of minute zero is a plain zero', () => expect(Object.is(ticks(axis)[1]?.minutes, 0)).toBe(true));
  it('an axis by scale reaches as far as its width allows', () => {
    const small = axisAtScale(320, 16, 4);
    expect(small.pastMs + small.aheadMs).toBe(20 * MINUTE);
    expect(nowX(small)).toBeCloseTo(64, 9);
  });
});

describe('the visible part of a span', () => {
  const of = (from: number, until: number) => stretch(axis, NOW + from * MINUTE, NOW + until * MINUTE, NOW);
  it('is whole inside', () => {
    const whole = of(-2, 3);
    expect(whole?.x).toBeCloseTo(72, 9);
    expect(whole?.widthPx).toBeCloseTo(120, 9);
    expect(whole).toMatchObject({ cutLeft: false, cutRight: false });
  });
  it('is clipped left of the axis and says so', () => {
    const cut = of(-9, -3);
    expect(cut).toMatchObject({ x: 0, cutLeft: true, cutRight: false });
    expect(cut?.widthPx).toBeCloseTo(48, 9);
  });
  it('is clipped at the end and says so', () => {
    const cut = of(20, 40);
    expect(cut).toMatchObject({ cutLeft: false, cutRight: true });
    expect(cut?.widthPx).toBeCloseTo(48, 9);
  });
  it('is nothing when it has passed, has not come yet, or has no length', () => {
    expect(of(-9, -5)).toBeNull();
    expect(of(22, 30)).toBeNull();
    expect(of(4, 4)).toBeNull();
    expect(of(4, 3)).toBeNull();
  });
});

it('strokes lie on whole device pixels', () => {
  expect(snap(10.4)).toBe(10);
  expect(snap(10.4, 2)).toBe(10.5);
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CommandRequest } from '../../../shared/wire.ts';
import { BEGIN, partDone, quiet, TouchingDevice, waterOn, type Net, type Page } from '../support/touching-device.ts';

/** How often; the long run is by `BASINBELL_RUNS`. */
const numRuns = Number(process.env['BASINBELL_RUNS'] ?? 60);
/** A first sending leaves the time to the server for so long. */
const FRESH_MS = 2_000;

type Step =
  | { readonly does: 'touch'; readonly head: number; readonly water: boolean }
  | { readonly does: 'net'; readonly net: Net; readonly linked: boolean }
  | { readonly does: 'pass'; readonly ms: number }
  | { readonly does: 'die' | 'open' | 'reload'; readonly page: number }
  | { readonly does: 'hide'; readonly page: number; readonly hidden: boolean };

const nets: readonly Net[] = ['request-lost', 'answer-lost', 'hangs', 'again', 'failed', 'html', 'html-500', 'odd'];
const page = fc.nat({ max: 2 });
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ does: fc.constant('touch' as const), head: fc.nat({ max: 2 }), water: fc.boolean() }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      does: fc.constant('net' as const),
      net: fc.constantFrom<Net>('through', ...nets),
      linked: fc.boolean(),
    }),
  },
  { weight: 5, arbitrary: fc.record({ does: fc.constant('pass' as const), ms: fc.integer({ min: 100, max: 8_000 }) }) },
  {
    weight: 3,
    arbitrary: fc.record({ does: fc.constantFrom('die' as const, 'open' as const, 'reload' as const), page }),
  },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('hide' as const), page, hidden: fc.boolean() }) },
);

interface Touched {
  readonly id: string;
  readonly lane: string;
  readonly water: boolean;
  readonly at: number;
}

/** One device through a pattern of troubles, then set right. */
class Trial {
  readonly device = new TouchingDevice();
  readonly touched: Touched[] = [];
  #pages: Page[] = [];
  #parts = 0;

  async run(steps: readonly Step[]): Promise<void> {
    this.#pages.push(await this.device.open());
    for (const one of steps) await this.#take(one);
    Object.assign(this.device.server, { net: 'through', linked: true });
    if (this.#pages.length === 0) this.#pages.push(await this.device.open());
    for (const one of this.#pages) one.hidden = false;
    await this.device.pass(30_000, ...this.#pages);
  }

  get open(): readonly Page[] {
    return this.#pages;
  }

  async #take(one: Step): Promise<void> {
    const { device } = this;
    const at = (n: number): Page | undefined => this.#pages[n % Math.max(1, this.#pages.length)];
    switch (one.does) {
      case 'touch':
        return this.#touch(at(one.head), one.head, one.water);
      case 'net':
        Object.assign(device.server, { net: one.net, linked: one.linked });
        return;
      case 'pass':
        return device.pass(one.ms, ...this.#pages);
      case 'open':
        if (this.#pages.length < 3) this.#pages.push(await device.open());
        return;
      case 'die':
      case 'reload': {
        const gone = at(one.page);
        gone?.die();
        this.#pages = this.#pages.filter((other) => other !== gone);
        if (one.does === 'reload') this.#pages.push(await device.open());
        return;
      }
      case 'hide': {
        const seen = at(one.page);
        if (seen !== undefined) seen.hidden = one.hidden;
        seen?.outbox.resume();
        return quiet();
      }
      default:
        return one satisfies never;
    }
  }

  async #touch(on: Page | undefined, head: number, water: boolean): Promise<void> {
    if (on === undefined) return;
    const visit = `visit-${head}`;
    void on.touch(water ? waterOn(visit) : partDone(visit, (this.#parts += 1)));
    const touch = on.outbox.touches.at(-1);
    if (touch !== undefined) this.touched.push({ id: touch.id, lane: touch.lane, water, at: touch.touchedAt });
    // A finger leaves the glass, and what was touched is stored, before a battery can die.
    await quiet();
  }
}

/**
 * As touched, at each head. Only where the server itself said that it cannot take something now may water pass what is no water.
 */
function inOrderPerLane(touched: readonly Touched[], applied: readonly CommandRequest[], mayPass: boolean): void {
  const kinds = mayPass ? [true, false] : [null];
  for (const lane of new Set(touched.map((one) => one.lane))) {
    for (const water of kinds) {
      const wanted = touched.filter((one) => one.lane === lane && (water === null || one.water === water));
      const ids = wanted.map(({ id }) => id);
      expect(applied.map(({ id }) => id).filter((id) => ids.includes(id))).toEqual(ids);
    }
  }
}

describe('whatever happens on the way', () => {
  it('[S8] every touch is applied once, in order per head, with its own time', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 40 }), async (steps) => {
        const trial = new Trial();
        await trial.run(steps);
        const { applied } = trial.device.server;
        expect(applied.map(({ request }) => request.id).sort()).toEqual(trial.touched.map(({ id }) => id).sort());
        const full = steps.some((one) => one.does === 'net' && (one.net === 'again' || one.net === 'failed'));
        inOrderPerLane(
          trial.touched,
          applied.map(({ request }) => request),
          full,
        );
        for (const { id, at } of trial.touched) {
          const was = applied.find(({ request }) => request.id === id)?.at ?? 0;
          expect(was).toBeGreaterThanOrEqual(at);
          expect(was - at).toBeLessThanOrEqual(FRESH_MS);
          expect(at).toBeGreaterThanOrEqual(BEGIN);
        }
        for (const open of trial.open) expect(open.outbox.unsettled).toEqual([]);
        expect(trial.device.memory.touches.size).toBe(0);
      }),
      { numRuns, examples: [] },
    );
  });
});

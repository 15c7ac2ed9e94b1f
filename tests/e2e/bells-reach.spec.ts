import { expect, test, type Browser } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { BlackHole } from '../support/black-hole.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, passTime } from './devices.ts';

/** Ama's head, Joss the assistant, Liv at another chair, Mona the manager: each with a phone, and a wall over all. */
const names = { ama: 'Ama', joss: 'Joss', liv: 'Liv', mona: 'Mona' } as const;
type Who = keyof typeof names;
const everybody = Object.keys(names) as Who[];

class Salon {
  readonly server: ServerProcess;
  readonly wall: Device;
  readonly phones: Readonly<Record<Who, Device>>;
  /** Each phone's own way to the server, which can swallow everything. */
  readonly ways: Readonly<Record<Who, BlackHole>>;
  visit = 'visit-0001';

  constructor(
    server: ServerProcess,
    wall: Device,
    phones: Readonly<Record<Who, Device>>,
    ways: Readonly<Record<Who, BlackHole>>,
  ) {
    this.server = server;
    this.wall = wall;
    this.phones = phones;
    this.ways = ways;
  }

  static async open(browser: Browser): Promise<Salon> {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer());
    await server.do({ type: 'AddPerson', name: 'Liv', roles: ['stylist'] }, { id: 'person-liv' });
    await server.do({ type: 'AddPerson', name: 'Mona', roles: ['manager'] }, { id: 'person-mona' });
    const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080 });
    const ways = {} as Record<Who, BlackHole>;
    const phones = {} as Record<Who, Device>;
    for (const who of everybody) {
      ways[who] = await BlackHole.open(() => server.address);
      const through = { address: ways[who].address, clock: server.clock } as ServerProcess;
      phones[who] = await Device.open(browser, through, '/pocket', { width: 390, height: 844 });
    }
    const salon = new Salon(server, wall, phones, ways);
    for (const who of everybody) await salon.comeOnShift(who);
    return salon;
  }

  /** One touch begins the shift and rings a test; it was heard. */
  private async comeOnShift(who: Who): Promise<void> {
    const { page } = this.phones[who];
    await this.pass(SECOND);
    await page.getByRole('button', { name: names[who] }).click();
    await expect.poll(() => this.phones[who].pulses()).toBeGreaterThan(0);
    await this.pass(SECOND);
    await page.getByRole('button', { name: 'Yes' }).click();
    await expect.poll(async () => this.reachOf(who)).toBe('shift');
  }

  private async reachOf(who: Who): Promise<string> {
    const person = (await this.server.floor()).entities[`person/person-${who}`];
    return person?.kind === 'person' && person.facts.shift !== null ? 'shift' : 'none';
  }

  /** Everybody who can be heard follows. */
  async pass(ms: number): Promise<void> {
    const heard = everybody.filter((who) => !this.ways[who].swallowing).map((who) => this.phones[who]);
    await passTime(this.server, [this.wall, ...heard], ms);
  }

  /** Ama's head waits for its bell; nobody has touched it for minutes. */
  async untilBefore(beforeMs: number): Promise<void> {
    const at = (await this.server.floor()).now;
    await this.server.do(
      { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: null },
      { id: this.visit },
    );
    await this.server.do({ type: 'BeginApplication', chair: 2, visit: this.visit, service: null });
    await this.pass(15 * MINUTE);
    await this.server.do({ type: 'FinishApplication', visit: this.visit });
    // Off by 30:00, and rung 3 minutes before (R2); first touch is the whole second of its touch.
    const begunAt = Math.floor(at / SECOND) * SECOND;
    await this.pass(begunAt + 27 * MINUTE - beforeMs - (await this.server.floor()).now);
  }

  /** Who has a bell that fills the screen and sounds. */
  async ringing(): Promise<Who[]> {
    const rings: Who[] = [];
    for (const who of everybody) {
      if (this.ways[who].swallowing) continue;
      if ((await this.phones[who].page.getByRole('button', { name: /I’ll go to 2/ }).count()) > 0) rings.push(who);
    }
    return rings;
  }

  async pictures(name: string): Promise<void> {
    await this.wall.page.screenshot({ path: `reports/pictures/${name}-wall.png` });
    for (const who of everybody) {
      await this.phones[who].page.screenshot({ path: `reports/pictures/${name}-${who}.png` });
    }
  }

  /** Every phone that shows the bell has said so. */
  async shownTo(who: readonly Who[]): Promise<void> {
    const wanted = who.map((one) => `person-${one}`);
    await expect
      .poll(async () => {
        const facts = await this.server.facts(this.visit);
        const bell = facts.bells.find(({ level }) => level !== 'NOTICE');
        return wanted.filter((person) => bell?.shown.some((one) => one.person === person));
      })
      .toEqual(wanted);
    await this.pass(0);
  }

  async close(): Promise<void> {
    await Promise.all([this.wall, ...Object.values(this.phones)].map((device) => device.close()));
    for (const way of Object.values(this.ways)) await way.close();
    await this.server.stop();
  }
}

let salon: Salon;
test.beforeEach(async ({ browser }) => {
  test.setTimeout(180_000);
  salon = await Salon.open(browser);
});
test.afterEach(() => salon.close());

test('[R6] an unanswered WARNING rings the stylist and one helper, all at 45 s, the manager at 90 s; taken, it is quiet', async () => {
  await salon.untilBefore(SECOND);
  expect(await salon.ringing()).toEqual([]);
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'joss']);
  await salon.shownTo(['ama', 'joss']);
  await salon.pass(44 * SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'joss']);
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'joss', 'liv']);
  await salon.shownTo(['ama', 'joss', 'liv']);
  await salon.pictures('carried-to-the-floor');
  await salon.pass(44 * SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'joss', 'liv']);
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'joss', 'liv', 'mona']);
  await salon.shownTo(['mona']);

  // Somebody goes: nobody is rung any more, and everybody can see who it is.
  await salon.phones.liv.page.getByRole('button', { name: /I’ll go to 2/ }).click();
  await expect.poll(async () => (await salon.server.facts(salon.visit)).bells[0]?.taken?.by).toBe('person-liv');
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual([]);
  await expect(salon.wall.page.locator('[data-chair="2"]')).toContainText(/Liv|taken/);
  await salon.pictures('somebody-goes');
});

test('[R7] phones that are not reached are named on the wall 8 s after the bell, and the next are rung at once; a taking runs out after 90 s', async () => {
  await salon.untilBefore(SECOND);
  salon.ways.ama.swallow();
  salon.ways.joss.swallow();
  await salon.pass(SECOND);
  await salon.pass(7 * SECOND);
  expect(await salon.ringing()).toEqual([]);
  await salon.pass(SECOND);
  const facts = await salon.server.facts(salon.visit);
  expect(facts.bells[0]).toMatchObject({ circle: 1, unreached: ['person-ama', 'person-joss'] });
  expect(await salon.ringing()).toEqual(['liv']);
  await expect(salon.wall.page.locator('body')).toContainText(/not reached: Ama, Joss/);
  await salon.pictures('not-reached');

  // Liv goes, and does not come: after 90 s it rings again and goes on to the next circle (R3).
  await salon.phones.liv.page.getByRole('button', { name: /I’ll go to 2/ }).click();
  await expect.poll(async () => (await salon.server.facts(salon.visit)).bells[0]?.taken?.by).toBe('person-liv');
  const takenAt = (await salon.server.facts(salon.visit)).bells[0]?.taken?.at ?? 0;
  await salon.pass(takenAt + 89 * SECOND - (await salon.server.floor()).now);
  expect(await salon.ringing()).toEqual([]);
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual(['liv', 'mona']);
});

test('[S6] burns ring everybody at once but whoever is at the head', async () => {
  await salon.untilBefore(MINUTE);
  const before = await Promise.all(everybody.map((who) => salon.phones[who].pulses()));
  await salon.server.do(
    { type: 'ReportBurns', chair: 2, visit: salon.visit, place: 'skin' },
    { id: 'command-burns', by: 'person-joss' },
  );
  await salon.pass(SECOND);
  expect(await salon.ringing()).toEqual(['ama', 'liv', 'mona']);
  // A burst of the test bell may still be under way by the hand's clock: never two at a time (R10).
  await salon.pass(4 * SECOND);
  const heard = async () => {
    const now = await Promise.all(everybody.map((who) => salon.phones[who].pulses()));
    return everybody.filter((_, i) => (now[i] ?? 0) > (before[i] ?? 0));
  };
  await expect.poll(heard).toEqual(['ama', 'liv', 'mona']);
  await salon.shownTo(['ama', 'liv', 'mona']);
  await salon.pictures('burns-ring-all');
});

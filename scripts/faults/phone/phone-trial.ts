import { MINUTE, SECOND } from '../../../core/time.ts';
import type { VisitCommand } from '../../../core/visit/commands/command.ts';
import type { VisitRecord } from '../../../shared/wire.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon, type Answered } from '../../../tests/support/server-process.ts';
import { doubledOf } from '../judge/doubled.ts';
import { readLog } from '../log-file.ts';
import type { Trial, TrialContext } from '../trial.ts';

/** Something a phone did without a link, so many minutes after it lost it. */
interface Act {
  readonly id: string;
  readonly after: number;
  readonly command: VisitCommand;
}

/** Two heads with product on and one in prep, as the phone saw them last; and how people act on them meanwhile. */
class Parlour {
  readonly server: ServerProcess;
  readonly visits: readonly string[];
  /** Instant at which the phone lost its link, on the floor's own time. */
  readonly lostAt: number;

  private constructor(server: ServerProcess, visits: readonly string[], lostAt: number) {
    this.server = server;
    this.visits = visits;
    this.lostAt = lostAt;
  }

  static async open(built: TrialContext['built']): Promise<Parlour> {
    const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], { run: [built.server] });
    await server.start();
    await setUpSalon(server, relaxer(), 4);
    const visits: string[] = [];
    for (const chair of [1, 2]) {
      visits.push(await server.do({ type: 'BeginApplication', chair, visit: null, service: null }));
    }
    visits.push(await server.do({ type: 'SeatVisit', chair: 3, service: 'service-1', stylist: null, label: null }));
    server.clock.pass(MINUTE);
    const { now } = await server.turn();
    return new Parlour(server, visits, now);
  }

  at(minutes: number): number {
    return this.lostAt + minutes * MINUTE;
  }

  send({ id, after, command }: Act): Promise<Answered> {
    return this.server.send(command, { id, by: 'person-ama', device: 'phone-0001', happenedAt: this.at(after) });
  }

  async record(visit: string | undefined): Promise<VisitRecord> {
    return (await (await fetch(`${this.server.address}/api/v1/visits/${visit}`)).json()) as VisitRecord;
  }

  /** When an event of a kind happened to a visit, minutes after the link was lost; one entry for each. */
  async times(visit: string | undefined, type: string): Promise<readonly number[]> {
    const { events } = await this.record(visit);
    return events.filter(({ event }) => event.type === type).map(({ at }) => (at - this.lostAt) / MINUTE);
  }
}

async function offline({ built, say, claim }: TrialContext): Promise<void> {
  const parlour = await Parlour.open(built);
  const { server, visits } = parlour;
  const [first = '', second = '', third = ''] = visits;
  const acts: readonly Act[] = [
    { id: 'phone-part-1', after: 4, command: { type: 'MarkPartDone', visit: first, part: 0 } },
    { id: 'phone-part-2', after: 8, command: { type: 'MarkPartDone', visit: first, part: 1 } },
    { id: 'phone-move', after: 9, command: { type: 'MoveTo', visit: third, chair: 4 } },
    { id: 'phone-finish', after: 14, command: { type: 'FinishApplication', visit: first } },
    { id: 'phone-water', after: 19, command: { type: 'BeginRinse', chair: 2, visit: second, basin: 91 } },
  ];
  // Meanwhile somebody with a link began at the third head where it sat.
  server.clock.pass(12 * MINUTE);
  await server.do({ type: 'BeginApplication', chair: 3, visit: third, service: null });
  server.clock.pass(8 * MINUTE);
  await server.turn();

  // Each is sent twice at once, and all of them once more afterwards, the last first.
  const told: Answered[] = [];
  const differed: string[] = [];
  for (const act of acts) {
    const [one, two] = await Promise.all([parlour.send(act), parlour.send(act)]);
    told.push(one);
    if (JSON.stringify(one) !== JSON.stringify(two)) differed.push(act.id);
  }
  for (const [i, act] of [...acts.entries()].reverse()) {
    if (JSON.stringify(await parlour.send(act)) !== JSON.stringify(told[i])) differed.push(act.id);
  }
  const parts = await parlour.times(first, 'PartMarkedDone');
  const finish = await parlour.times(first, 'ApplicationFinished');
  const water = await parlour.times(second, 'RinseBegun');
  const late = told[2]?.body ?? {};
  say(`five acts of 20 min without a link, each sent three times: ${told.map(({ status }) => status).join(', ')}`);
  say(`one no longer fitted: ${String(late['code'])}, "${String(late['detail'])}"`);
  const times = [...parts, ...finish, ...water].join();
  claim('all arrive with their times, in order, none twice', times === '4,8,14,19', times);
  claim('sent again, each gets the same answer', differed.length === 0, differed.join() || 'none differed');
  const kept = await parlour.times(third, 'StatementKept');
  claim('one that no longer fits is answered `moved-on`', late['code'] === 'moved-on', String(late['code']));
  claim('and kept as a statement, once, with its time', kept.join() === '9', kept.join());
  const { rows, integrity } = readLog(server.data);
  claim('nothing is in the log twice', doubledOf(rows).length === 0 && integrity === 'ok');
  await server.stop();
}

/** A network that turns things round: what happened first arrives last. */
async function reordered({ built, say, claim }: TrialContext): Promise<void> {
  const parlour = await Parlour.open(built);
  const { server, visits } = parlour;
  const [first = ''] = visits;
  const finish: Act = { id: 'late-finish', after: 12, command: { type: 'FinishApplication', visit: first } };
  const water: Act = {
    id: 'late-water',
    after: 18,
    command: { type: 'BeginRinse', chair: 1, visit: first, basin: 91 },
  };
  server.clock.pass(20 * MINUTE);
  await server.turn();
  const sent = [water, finish, finish, water];
  const told: Answered[] = [];
  for (const act of sent) told.push(await parlour.send(act));
  const rinses = await parlour.times(first, 'RinseBegun');
  const statements = await parlour.times(first, 'StatementKept');
  const facts = await server.facts(first);
  say(
    `water of 18 min sent before the finish of 12 min, each twice: ${told.map((one) => String(one.body['code'] ?? one.body['outcome'])).join(', ')}`,
  );
  claim('the water stands at its time, once', rinses.join() === '18' && facts.stage === 'rinse', rinses.join());
  claim('the finish that came too late is kept as a statement, once', statements.join() === '12', statements.join());
  server.clock.pass(SECOND);
  const { rows } = readLog(server.data);
  claim('nothing is in the log twice', doubledOf(rows).length === 0);
  await server.stop();
}

export const phoneTrials: readonly Trial[] = [
  { name: 'phone: 20 min without a link, five acts', form: 'both', run: offline },
  { name: 'phone: requests doubled and out of order', form: 'both', run: reordered },
];

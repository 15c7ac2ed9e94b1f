import { MINUTE, SECOND } from '../../../../core/time.ts';
import type { Here } from '../../../../shared/socket-events.ts';
import { PushService, type Delivered, type Manner, type Subscribed } from '../../../support/push-service.ts';
import { TestServer, type Told } from '../../routes/kit.ts';

export { MINUTE, SECOND };

/** A salon at work with pushes on, Ama and Joss on shift, and a push service beside it. */
export class PushedSalon {
  readonly server: TestServer;
  readonly service: PushService;

  private constructor(server: TestServer, service: PushService) {
    this.server = server;
    this.service = service;
  }

  static async open(): Promise<PushedSalon> {
    const server = await (await TestServer.start()).setUp();
    await server.send({ type: 'AddPerson', name: 'Joss', roles: ['assistant'] }, { id: 'person-joss' });
    for (const person of ['person-ama', 'person-joss']) await server.send({ type: 'BeginShift', person });
    await server.app.http.listen({ host: '127.0.0.1', port: 0 });
    const salon = new PushedSalon(server, await PushService.start());
    await salon.turnPush(true);
    return salon;
  }

  async close(): Promise<void> {
    await this.server.app.http.close();
    await this.service.close();
  }

  async turnPush(on: boolean): Promise<void> {
    await this.server.send({ type: 'SetPush', on, contact: 'mailto:owner@salon.example' });
  }

  /** A phone with a page that once turned pushes on. */
  async phone(device: string, person: string, manner: Manner = 'take'): Promise<Subscribed> {
    // A page asks for the key first.
    await this.server.raw('GET', '/api/v1/push');
    const one = this.service.subscribe(manner);
    const told = await this.put(device, { person, endpoint: one.endpoint, keys: one.keys });
    if (told.status !== 200) throw new Error(JSON.stringify(told.body));
    return one;
  }

  put(device: string, body: object): Promise<Told> {
    return this.server.raw('PUT', `/api/v1/push/subscriptions/${device}`, JSON.stringify(body));
  }

  receipt(receipt: string | null): Promise<Told> {
    return this.server.raw('POST', '/api/v1/push/receipts', JSON.stringify({ receipt }));
  }

  test(device: string): Promise<Told> {
    return this.server.raw('POST', '/api/v1/push/test', JSON.stringify({ device }));
  }

  told(device: string): Promise<Told> {
    return this.server.raw('GET', `/api/v1/push/subscriptions/${device}`);
  }

  /** Begun now by Ama at a chair of hers, application ended 15 min later. */
  async processing(chair = 1): Promise<string> {
    const { body } = await this.server.send({
      type: 'SeatVisit',
      chair,
      service: 'service-1',
      stylist: 'person-ama',
      label: 'Mrs Example',
    });
    const visit = String(body.visit);
    await this.server.send({ type: 'BeginApplication', chair, visit, service: null }, { by: 'person-ama' });
    this.pass(15 * MINUTE);
    await this.server.send({ type: 'FinishApplication', visit }, { by: 'person-ama' });
    return visit;
  }

  pass(ms: number): void {
    this.server.hand.pass(ms);
    this.server.engine.turn();
  }

  /** A page says how it stands with it. */
  here(device: string, person: string, more: Partial<Here> = {}): void {
    const here: Here = {
      device,
      person,
      screen: 'pocket',
      sound: 'on',
      heard: true,
      seen: true,
      mutedUntil: null,
      ...more,
    };
    this.server.presence.hear(device, here);
  }

  /** What repeats comes round once. */
  tick(): void {
    for (const task of this.server.timers.repeated) task();
  }

  /** Resolves once so many have reached a browser. */
  async had(one: Subscribed, count: number): Promise<readonly Delivered[]> {
    await this.service.until(() => this.service.of(one).length >= count);
    return this.service.of(one);
  }

  /** Everything on its way by now has come: one more goes the same way, behind it. */
  async settled(): Promise<void> {
    for (let i = 0; i < 5; i++) await new Promise((resolve) => setImmediate(resolve));
    const last = this.service.subscribe();
    await this.put('device-last', { person: 'person-ama', endpoint: last.endpoint, keys: last.keys });
    await this.test('device-last');
    await this.service.until(() =>
      this.service.of(last).some(({ message }) => message.notification.tag.startsWith('test')),
    );
    await this.server.raw('DELETE', '/api/v1/push/subscriptions/device-last');
  }

  shown(visit: string): string[] {
    return this.server.disk.eventsOf(visit).flatMap(({ event }) => (event.type === 'BellShown' ? [event.person] : []));
  }
}

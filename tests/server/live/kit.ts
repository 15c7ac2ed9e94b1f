import type { AddressInfo } from 'node:net';
import { io, type Socket } from 'socket.io-client';
import { PROTOCOL, type StreamName } from '../../../shared/protocol.ts';
import type { ClientToServer, JoinAnswer, ServerToClient } from '../../../shared/socket-events.ts';
import type { FloorEntity, Push, Snapshot } from '../../../shared/wire.ts';
import { TestServer } from '../routes/kit.ts';

export async function listening(): Promise<{ server: TestServer; address: string }> {
  const server = await (await TestServer.start()).setUp();
  await server.app.http.listen({ host: '127.0.0.1', port: 0 });
  return { server, address: `http://127.0.0.1:${(server.app.http.server.address() as AddressInfo).port}` };
}

/** A screen as the server sees it: keeps what it was told, and asks for a snapshot when it finds a gap. */
export class Screen {
  readonly socket: Socket<ServerToClient, ClientToServer>;
  entities: Record<string, FloorEntity> = {};
  revision = -1;
  pushes: Push[] = [];
  gaps = 0;
  #waiting: { readonly until: () => boolean; readonly go: () => void }[] = [];
  #stream: StreamName = 'floor';

  constructor(address: string, headers: Record<string, string> = {}) {
    this.socket = io(address, {
      transports: ['websocket'],
      reconnection: false,
      extraHeaders: headers,
      forceNew: true,
    });
    this.socket.on('push', (push) => void this.#take(push));
  }

  /** Anything at all, as a broken page might send it. */
  say(...packet: readonly unknown[]): void {
    (this.socket as unknown as { emit: (...args: readonly unknown[]) => void }).emit(...packet);
  }

  connected(): Promise<this> {
    return new Promise((resolve, reject) => {
      this.socket.once('connect', () => resolve(this));
      this.socket.once('connect_error', reject);
    });
  }

  next<T extends keyof ServerToClient>(name: T): Promise<Parameters<ServerToClient[T]>[0]> {
    return new Promise((resolve) => {
      (this.socket.once as (event: T, heard: (told: Parameters<ServerToClient[T]>[0]) => void) => void)(name, resolve);
    });
  }

  gone(): Promise<string> {
    return new Promise((resolve) => this.socket.once('disconnect', resolve));
  }

  async join(stream: StreamName = 'floor', protocol = PROTOCOL): Promise<JoinAnswer> {
    this.#stream = stream;
    const answer = await this.socket.emitWithAck('join', { streams: [stream], protocol });
    if (answer.outcome === 'joined') {
      const whole = JSON.parse(answer.snapshots[0] ?? '') as Snapshot;
      this.entities = { ...whole.entities };
      this.revision = whole.revision;
      this.#look();
    }
    return answer;
  }

  /** Resolves once this screen stands at the revision. */
  at(revision: number): Promise<void> {
    return new Promise((resolve) => {
      this.#waiting.push({ until: () => this.revision >= revision, go: resolve });
      this.#look();
    });
  }

  async #take(push: Push): Promise<void> {
    this.pushes.push(push);
    if (push.revision <= this.revision) return;
    if (push.previous !== this.revision) {
      this.gaps += 1;
      await this.join(this.#stream);
      return;
    }
    this.revision = push.revision;
    for (const [key, entity] of Object.entries(push.entities)) {
      if (entity === null) delete this.entities[key];
      else this.entities[key] = entity;
    }
    this.#look();
  }

  #look(): void {
    const ready = this.#waiting.filter(({ until }) => until());
    this.#waiting = this.#waiting.filter((one) => !ready.includes(one));
    for (const { go } of ready) go();
  }
}

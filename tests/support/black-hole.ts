import { once } from 'node:events';
import { connect, createServer, type AddressInfo, type Server, type Socket } from 'node:net';

/**
 * A network between a server and its screens that can swallow everything: nothing is forwarded and nothing is closed, as
 * when a radio link dies. What was sent meanwhile arrives after `release`, as TCP's own repetition would bring it,
 * unless the links are cut.
 */
export class BlackHole {
  readonly address: string;
  readonly #server: Server;
  readonly #links = new Set<Socket>();
  #swallowing = false;

  private constructor(server: Server) {
    this.#server = server;
    this.address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  }

  /** `target` is asked anew at each connection, for a server that comes back elsewhere. */
  static async open(target: () => string): Promise<BlackHole> {
    const server = createServer({ pauseOnConnect: true });
    server.listen(0, '127.0.0.1');
    await once(server, 'listening');
    const hole = new BlackHole(server);
    server.on('connection', (near) => hole.#link(near, new URL(target())));
    return hole;
  }

  get swallowing(): boolean {
    return this.#swallowing;
  }

  swallow(): void {
    this.#swallowing = true;
    for (const link of this.#links) link.pause();
  }

  release(): void {
    this.#swallowing = false;
    for (const link of this.#links) link.resume();
  }

  /** Ends every link at once, as a network does that comes back without memory of them; new ones are taken. */
  cut(): void {
    for (const link of this.#links) link.destroy();
  }

  async close(): Promise<void> {
    this.cut();
    this.#server.close();
    await once(this.#server, 'close');
  }

  #link(near: Socket, { hostname, port }: URL): void {
    const far = connect({ host: hostname, port: Number(port) });
    this.#carry(near, far);
    this.#carry(far, near);
    if (!this.#swallowing) near.resume();
  }

  #carry(from: Socket, to: Socket): void {
    this.#links.add(from);
    from.setNoDelay(true);
    if (this.#swallowing) from.pause();
    from.on('data', (bytes) => to.write(bytes));
    from.on('end', () => to.end());
    // Whichever side breaks, the other learns of it as far as anything is forwarded at all.
    from.on('error', () => to.destroy());
    from.on('close', () => {
      this.#links.delete(from);
      if (!this.#swallowing) to.destroy();
    });
  }
}

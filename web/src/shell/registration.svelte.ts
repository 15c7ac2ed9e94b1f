/**
 * Whether this screen opens again without the server. `absent`: no service worker here, as on every page that came by
 * plain http from another machine (w3.org/TR/secure-contexts). `preparing`: not all of it is kept yet.
 */
export type OpensAlone = 'absent' | 'preparing' | 'yes' | 'failed';

/** How often a worker that waits is told that this screen is quiet, ms; it forgets after 15 s. */
const SAY_QUIET_EVERY_MS = 5_000;

type Worker = Pick<ServiceWorker, 'postMessage'>;
export interface Registered {
  readonly active: Worker | null;
  readonly waiting: Worker | null;
  update(): Promise<unknown>;
}
type Workers = Pick<ServiceWorkerContainer, 'register'> & { readonly ready: Promise<unknown> };

/** The page's end of the service worker. */
export class ShellRegistration {
  opensAlone = $state<OpensAlone>('absent');
  #registered: Registered | null = null;
  #saidAt = Number.NEGATIVE_INFINITY;

  /** Resolves when it is known how it stands; a browser that forbids storage, for instance, refuses. */
  async start(workers: Workers | null): Promise<void> {
    if (workers === null) return;
    this.opensAlone = 'preparing';
    try {
      const registered = (await workers.register('/sw.js', { updateViaCache: 'none' })) as Registered | undefined;
      if (registered === undefined) throw new Error('the browser registers none');
      this.#registered = registered;
      await workers.ready;
      this.opensAlone = 'yes';
    } catch {
      this.opensAlone = this.#registered?.active ? 'yes' : 'failed';
    }
  }

  /** Another release is kept already and waits. */
  get waits(): boolean {
    return (this.#registered?.waiting ?? null) !== null;
  }

  /** Asks the server for another release to keep. Unanswered it stays as it is. */
  update(): void {
    this.#registered?.update().catch(() => undefined);
  }

  /** Nothing would be lost here now: a release that waits may take over, as far as this screen is concerned. */
  quiet(nowMs: number): void {
    const waiting = this.#registered?.waiting;
    if (!waiting || nowMs - this.#saidAt < SAY_QUIET_EVERY_MS) return;
    this.#saidAt = nowMs;
    waiting.postMessage('quiet');
  }
}

export const shell = new ShellRegistration();

/** Started by the screens that can open without the server; the development server has no worker. */
export function keepShell(): void {
  if (!import.meta.env.PROD) return;
  void shell.start('serviceWorker' in navigator ? navigator.serviceWorker : null);
}

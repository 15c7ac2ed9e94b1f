import Fastify, {
  LogController,
  type FastifyBaseLogger,
  type FastifyInstance,
  type FastifyServerOptions,
} from 'fastify';
import { BODY_LIMIT, PROTOCOL } from '../shared/protocol.ts';
import type { BackupsTold } from '../shared/wire.ts';
import type { Engine } from './engine/engine.ts';
import type { Timers } from './engine/timers.ts';
import { openLive, type Live } from './live/live.ts';
import { calledByOwnName, sameOrigin, type HostNames } from './live/origin.ts';
import { openHooks } from './reach/hooks/open-hooks.ts';
import { openPush } from './reach/push/open-push.ts';
import type { Presence } from './reach/presence.ts';
import { describeApi } from './routes/api-document.ts';
import { backupsRoute } from './routes/backups.ts';
import { commandRoute } from './routes/commands.ts';
import { floorRoutes } from './routes/floor.ts';
import { handClockRoute } from './routes/hand-clock.ts';
import { healthRoutes } from './routes/health.ts';
import { hookRoutes } from './routes/hooks.ts';
import { pageForLost, pageRoutes } from './routes/pages.ts';
import { problemFor, RefusedRequest, refuseByProblems, sendProblem } from './routes/problems.ts';
import { pushRoutes } from './routes/push.ts';
import { startRoutes } from './routes/start.ts';
import type { Store } from './store/store.ts';

export interface AppDeps {
  readonly engine: Engine;
  readonly store: Store;
  readonly timers: Timers;
  readonly log: FastifyBaseLogger;
  /** Folder of the built pages. */
  readonly pages: string;
  /** Names, besides addresses, under which this server may be called. */
  readonly hostNames: HostNames;
  readonly lan: boolean;
  /** Where other devices find it; known once it listens. */
  readonly addresses: () => readonly string[];
  readonly handClock: boolean;
  readonly startModelDay: (() => Promise<{ readonly url: string }>) | null;
  readonly backups?: () => BackupsTold | null;
  readonly presence: Presence;
  /** PEM texts; null or absent: plain http. */
  readonly tls?: { readonly cert: string; readonly key: string } | null;
}

export interface App {
  readonly http: FastifyInstance;
  readonly live: Live;
}

/** The application; `serve.ts` is only the process around it. */
export async function buildApp(deps: AppDeps): Promise<App> {
  const { engine, store } = deps;
  const options = {
    loggerInstance: deps.log,
    // Addresses carry ids only, but every touch would be a line: refusals and faults are enough.
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: BODY_LIMIT,
    // A page that keeps its connection must not hold up the end.
    forceCloseConnections: true,
    // Refused before any route or hook is reached.
    frameworkErrors: (error, _request, reply) => void sendProblem(reply, problemFor(error)),
    routerOptions: { maxParamLength: 128 },
  } satisfies FastifyServerOptions;
  const { tls = null } = deps;
  // Fastify's types tell the two kinds of server apart; nothing after this does.
  const http = (
    tls === null ? Fastify(options) : Fastify({ ...options, https: { cert: tls.cert, key: tls.key } })
  ) as FastifyInstance;
  http.removeContentTypeParser('text/plain');
  refuseByProblems(http, (request, reply) => pageForLost(request, reply, deps.pages));
  refuseForeign(http, deps.hostNames);
  await describeApi(http);
  await pageRoutes(http, deps.pages);
  const live = openLive({ ...deps, http: http.server });
  http.addHook('preClose', live.close);
  commandRoute(http, engine);
  floorRoutes(http, engine, store, live.books);
  healthRoutes(http, engine);
  backupsRoute(http, deps.backups ?? (() => null));
  hookRoutes(http, openHooks(deps, http));
  pushRoutes(http, { pushes: openPush(deps, http), floor: () => engine.floor, loopbackToo: deps.handClock });
  startRoutes(http, {
    startModelDay: deps.startModelDay,
    about: () => ({
      protocol: PROTOCOL,
      run: engine.run,
      lan: deps.lan,
      addresses: deps.addresses(),
      handClock: deps.handClock,
      // The model day has no model day of its own.
      modelDay: deps.startModelDay !== null && !engine.floor.salon.demonstration,
    }),
  });
  if (deps.handClock) handClockRoute(http, engine);
  await http.ready();
  return { http, live };
}

/** Pages of other addresses may neither act nor read here, whatever their name was made to lead to. */
function refuseForeign(http: FastifyInstance, hostNames: HostNames): void {
  http.addHook('onRequest', async ({ headers }) => {
    const ours = calledByOwnName(headers.host, hostNames) && sameOrigin(headers.origin, headers.host);
    if (!ours) throw new RefusedRequest('foreign-origin');
  });
}

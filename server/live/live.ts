import type { Server as HttpServer } from 'node:http';
import { Server, type Socket } from 'socket.io';
import type { Problem } from '../../shared/problem.ts';
import { HEARTBEAT_MS, PACKET_LIMIT, PROTOCOL, streamNames, type StreamName } from '../../shared/protocol.ts';
import type { ClientToServer, ServerToClient } from '../../shared/socket-events.ts';
import type { Heartbeat, Push } from '../../shared/wire.ts';
import type { Engine, EngineLog } from '../engine/engine.ts';
import type { Timers } from '../engine/timers.ts';
import type { Presence } from '../reach/presence.ts';
import { beatFormerly, pushedFormerly } from './former-protocol/translation.ts';
import { calledByOwnName, sameOrigin, type HostNames } from './origin.ts';
import { isSpoken, packetProblem, protocolProblem } from './packets.ts';
import { StreamBook, type SpokenProtocol } from './stream-book.ts';

/** A screen that sends so many packets that cannot be understood is let go; it comes back afresh. */
const BAD_PACKETS_BORNE = 5;

/** How often it is looked whether a device has fallen silent, ms. */
const LOOK_MS = 2_000;

export type Books = Readonly<Record<StreamName, StreamBook>>;
type Screens = Server<ClientToServer, ServerToClient>;
type ScreenSocket = Socket<ClientToServer, ServerToClient>;

/** Where all screens of the former protocol are, and where those of them are that follow one stream. */
const FORMER = 'former-protocol';
const roomOf = (stream: StreamName, protocol: SpokenProtocol) =>
  protocol === PROTOCOL ? stream : (`${FORMER}/${stream}` as const);

export interface LiveDeps {
  readonly http: HttpServer;
  readonly engine: Engine;
  readonly timers: Timers;
  readonly log: EngineLog;
  readonly hostNames: HostNames;
  readonly presence: Presence;
}

export interface Live {
  readonly books: Books;
  /** How many screens are linked. */
  readonly screens: () => number;
  readonly close: () => Promise<void>;
}

/** Tells the screens: a snapshot when they join, what changed after each turn, and a heartbeat. */
export function openLive(deps: LiveDeps): Live {
  const { engine, timers } = deps;
  const io = socketServer(deps);
  const books = openBooks(engine);
  const stopTelling = engine.subscribe((change) => {
    for (const stream of streamNames) tellChange(io, stream, books[stream].turn(change));
  });
  const stopBeating = timers.every(HEARTBEAT_MS, () => beat(io, engine.heartbeat()));
  const stopWatching = timers.every(LOOK_MS, () => tellReach(io, deps));
  io.on('connection', (socket: ScreenSocket) => welcome(socket, deps, books, () => tellReach(io, deps)));
  return {
    books,
    screens: () => io.of('/').sockets.size,
    close: async () => {
      stopBeating();
      stopWatching();
      stopTelling();
      io.disconnectSockets(true);
      await io.close();
    },
  };
}

/** Nothing is put into the former words unless somebody is there to hear them. The socket's types know today's only. */
function tellChange(io: Screens, stream: StreamName, push: Push): void {
  io.to(stream).emit('push', push);
  const former = `${FORMER}/${stream}`;
  if (isPeopled(io, former)) io.to(former).emit('push', pushedFormerly(push) as Push);
}

function beat(io: Screens, heartbeat: Heartbeat): void {
  if (!isPeopled(io, FORMER)) {
    io.volatile.emit('heartbeat', heartbeat);
    return;
  }
  io.except(FORMER).volatile.emit('heartbeat', heartbeat);
  io.to(FORMER).volatile.emit('heartbeat', beatFormerly(heartbeat) as Heartbeat);
}

/** Who can be reached follows from what devices say and do not say any more: looked at anew, told if it is otherwise. */
function tellReach(io: Screens, { engine, presence }: LiveDeps): void {
  if (!presence.look(engine.floor, engine.heartbeat().now)) return;
  io.emit('reach', presence.told);
  engine.askTurn();
}

function isPeopled(io: Screens, room: string): boolean {
  return io.of('/').adapter.rooms.has(room);
}

function socketServer({ http, hostNames }: LiveDeps): Screens {
  const io = new Server<ClientToServer, ServerToClient>(http, {
    transports: ['websocket'],
    // A dead link is noticed within 15 s; the defaults would take up to 45 s.
    pingInterval: 5_000,
    pingTimeout: 10_000,
    maxHttpBufferSize: PACKET_LIMIT,
    serveClient: false,
    allowRequest: ({ headers }, answer) => {
      const ours = calledByOwnName(headers.host, hostNames) && sameOrigin(headers.origin, headers.host);
      answer(ours ? null : 'foreign-origin', ours);
    },
  });
  // Otherwise the first request of each screen is held for as long as it is linked.
  io.engine.on('connection', (raw: { request: unknown }) => {
    raw.request = null;
  });
  return io;
}

function openBooks(engine: Engine): Books {
  const book = (stream: StreamName) => new StreamBook(stream, engine.floor, engine.revision);
  return { floor: book('floor'), 'floor-unlabelled': book('floor-unlabelled'), salon: book('salon') };
}

function welcome(socket: ScreenSocket, { engine, log, presence }: LiveDeps, books: Books, moved: () => void): void {
  let bad = 0;
  const complain = (problem: Problem): void => {
    socket.emit('problem', problem);
    bad += 1;
    if (bad < BAD_PACKETS_BORNE) return;
    log.warn({ code: problem.code }, 'a screen sent what cannot be understood and was let go');
    socket.disconnect(true);
  };
  // What does not fit its schema never reaches a handler, and disturbs nobody but its sender.
  socket.use((packet, next) => {
    const problem = packetProblem(packet);
    if (problem === null) next();
    else complain(problem);
  });
  socket.on('join', ({ streams, protocol }, answer) => {
    if (!isSpoken(protocol)) return answer({ outcome: 'refused', problem: protocolProblem() });
    enterRooms(socket, streams, protocol);
    const time = engine.heartbeat();
    answer({ outcome: 'joined', snapshots: streams.map((stream) => books[stream].snapshot(time, protocol)) });
    socket.emit('heartbeat', protocol === PROTOCOL ? time : (beatFormerly(time) as Heartbeat));
    socket.emit('reach', presence.told);
  });
  listenToDevice(socket, engine, presence, moved);
  socket.on('clock', (answer) => {
    const received = engine.heartbeat();
    answer({ timescale: received.timescale, receivedAt: received.now, sentAt: engine.heartbeat().now });
  });
  socket.on('kept-time', (kept, answer) => {
    engine.hear(kept);
    answer({ outcome: 'heard' });
  });
  socket.on('test-bell', ({ level }, answer) => {
    socket.emit('ring-test', { level });
    answer({ outcome: 'rung' });
  });
  socket.on('error', (error) => log.warn({ err: error }, 'a socket failed'));
}

/** What a device says of itself, and that it has shown bells (R7). */
function listenToDevice(socket: ScreenSocket, engine: Engine, presence: Presence, moved: () => void): void {
  socket.on('here', (here, answer) => {
    presence.hear(socket.id, here);
    moved();
    answer({ outcome: 'heard' });
  });
  socket.on('shown', ({ person, bells }, answer) => {
    engine.confirm(bells.map((bell) => ({ person, bell })));
    answer({ outcome: 'heard' });
  });
  socket.on('disconnect', () => {
    presence.gone(socket.id);
    moved();
  });
}

/** A screen is where it asked to be, in its own protocol, and nowhere else. */
function enterRooms(socket: ScreenSocket, streams: readonly StreamName[], protocol: SpokenProtocol): void {
  for (const room of socket.rooms) if (room !== socket.id) void socket.leave(room);
  for (const stream of streams) void socket.join(roomOf(stream, protocol));
  if (protocol !== PROTOCOL) void socket.join(FORMER);
}

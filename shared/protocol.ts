/**
 * Version of what crosses the socket. It grows when a screen of the version before could not understand what it is told.
 * The server speaks this one and the one before, so that no screen has to open itself anew in the middle of a service;
 * a screen of any other version is refused and reloads itself. It is never half understood.
 */
export const PROTOCOL = 3;
export const FORMER_PROTOCOL = 2;

/**
 * The few streams that screens share. `floor-unlabelled` is `floor` without what clients are called: what a wall in
 * the room may show. `salon` is all of the set-up, retired things and sources included.
 */
export const streamNames = ['floor', 'floor-unlabelled', 'salon'] as const;
export type StreamName = (typeof streamNames)[number];

/** How often a screen says that it is there and can be heard, in ms. */
export const PRESENCE_MS = 4_000;

/** How often the server says that it is there, in ms. */
export const HEARTBEAT_MS = 2_000;

/** A body or packet larger than this is refused, in bytes. */
export const BODY_LIMIT = 32 * 1024;
export const PACKET_LIMIT = 64 * 1024;

/** Lengths of words, in UTF-16 units after trimming. */
export const wordLimits = { placeLabel: 4, name: 40, visitLabel: 12, source: 200, note: 200 } as const;

/** Ids are made by their sender: 8 to 64 of these characters (S8). */
export const ID_PATTERN = /^[A-Za-z0-9_-]{8,64}$/;

/** Beside a command that leaves its time open: when it was touched, epoch ms on the timescale named after it. */
export const TOUCHED_HEADER = 'basinbell-touched';

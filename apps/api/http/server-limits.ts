import type { BucketSize } from '../access/token-bucket.js';
import type { RoomBounds } from './body-room.js';

/** What the server bears of a client, whoever it is. Sizes in bytes, times in ms. */
export interface ServerLimits {
  /** From the first byte of a request, or the opening of a connection, to the end of the headers. */
  readonly headersMs: number;
  /** To the end of the body. */
  readonly requestMs: number;
  /** In which no byte moves in either direction, while a request is read or an answer is sent. */
  readonly idleMs: number;
  /** Between an answer and the next request over the same connection. */
  readonly keepAliveMs: number;
  /** How often it is looked who is over headersMs or requestMs: each may last so much longer. */
  readonly lookEveryMs: number;
  /** Of all headers with the address. */
  readonly headerBytes: number;
  /** Headers in number. */
  readonly headers: number;
  /** Characters of an address with its query. */
  readonly address: number;
  /** Characters of one name in an address. */
  readonly name: number;
  /** Open connections of one process. */
  readonly connections: number;
  /** Requests that wait for their answer on one connection. */
  readonly atOnce: number;
  /** Refusals of one client: for want of a key, and for a wrong password, apart. */
  readonly refusals: BucketSize;
  /** Bodies of events and traces that are read, or whose requests wait for their answers. */
  readonly bulkBodies: RoomBounds;
  /** The same of all other bodies that callers send. */
  readonly otherBodies: RoomBounds;
}

const MIB = 1024 * 1024;
/** Largest trace file: a day of a logger that reads twice a second. */
export const TRACE_BODY_BYTES = 16 * MIB;

/** @param inAll bytes, at least twice the largest body */
export function bulkBodies(inAll: number): RoomBounds {
  // A few callers that send without end leave room for the others, and the largest body fits.
  return { inAll, ofOne: Math.max(TRACE_BODY_BYTES, inAll / 4) };
}

export const SERVER_LIMITS: ServerLimits = {
  // Headers fit into a few packets: on the worst line that takes seconds.
  headersMs: 15_000,
  // The largest body, a trace of 16 MiB, at a little over 1 Mbit/s.
  requestMs: 120_000,
  // A stream says something every 15 s, and the longest work, an export, begins to send after seconds.
  idleMs: 120_000,
  // Longer than the minute after which proxies let go of a connection, so that none is closed under a request.
  keepAliveMs: 75_000,
  lookEveryMs: 5_000,
  // What Node and most proxies take. A session, a key and what a browser adds are below 2 kB.
  headerBytes: 16_384,
  // Browsers behind proxies send some 30. Node would leave out what is above 2,000, without a word.
  headers: 100,
  // The longest query that a page asks is some 1.5 kB, with a cursor in it.
  address: 8_192,
  // A device named after its place, made of three names of 64 and two colons.
  name: 194,
  // 500 streams, and three times as many stations and browsers; each takes a file handle and some 20 kB.
  connections: 2_000,
  // A client that waits for its answers has 1. HTTP/1.1 lets it send on, and each would be worked at once.
  atOnce: 32,
  // Some dozens of people and stations at one address who mistype. One a second afterwards is 86,400 records and guesses a day.
  refusals: { burst: 100, perSecond: 1 },
  bulkBodies: bulkBodies(64 * MIB),
  // Bodies of 1 MiB are rare, and people send them one at a time.
  otherBodies: { inAll: 32 * MIB, ofOne: 8 * MIB },
};

/** Largest body of station events: a thousand events of the largest sensible size. */
export const EVENTS_BODY_BYTES = 8 * MIB;
/** Largest wish for an archive: ten thousand units by name. */
export const ARCHIVE_BODY_BYTES = 2 * MIB;
/** Largest body of any other request. */
export const JSON_BODY_BYTES = MIB;
/** Largest body of who is not known yet: a name and a password of a thousand characters. */
export const SIGN_IN_BODY_BYTES = 16 * 1024;

import { EventFault } from './event-fault.js';

/** What this package throws: `code` tells the kinds apart, the message says what to do. */
export abstract class StationError extends Error {
  abstract readonly code: string;
}

/** The event has not the shape of its type. Nothing of the call was kept. */
export class BadEvent extends StationError {
  override readonly name = 'BadEvent';
  readonly code = 'bad-event';

  constructor(
    /** What is wrong, at which place (JSON Pointer). */
    readonly faults: readonly EventFault[],
    /** Which of the events that were given, from 0. */
    readonly index: number,
  ) {
    const told = faults.map(({ pointer, detail }) => (pointer === '' ? detail : `${pointer}: ${detail}`));
    super(`The event cannot be posted. ${told.join(' ')}`);
  }
}

/** The disk, or what the spool may take of it, is full. Nothing of the call was kept; what was kept before is safe. */
export class SpoolFull extends StationError {
  override readonly name = 'SpoolFull';
  readonly code = 'spool-full';
}

/** The spool cannot be read or written for another reason than that it is full. Nothing of the call was kept. */
export class SpoolBroken extends StationError {
  override readonly name = 'SpoolBroken';
  readonly code = 'spool-broken';
}

/** Another process has the spool. */
export class SpoolLocked extends StationError {
  override readonly name = 'SpoolLocked';
  readonly code = 'spool-locked';
}

/** It was closed before. */
export class Closed extends StationError {
  override readonly name = 'Closed';
  readonly code = 'closed';

  constructor() {
    super('This was closed: open it again.');
  }
}

/** Heatbook does not take the key, or not for this station. Nothing is lost; with a good key it goes on. */
export class KeyRefused extends StationError {
  override readonly name = 'KeyRefused';
  readonly code = 'key-refused';

  constructor(
    /** 401: no valid key; 403: a key that may not do this. */
    readonly status: number,
    detail: string,
  ) {
    super(`Heatbook refuses the key (${String(status)}): ${detail}`);
  }
}

/** The request is one that Heatbook will never take as it is. */
export class RequestRefused extends StationError {
  override readonly name = 'RequestRefused';
  readonly code = 'request-refused';

  constructor(
    readonly status: number,
    /** RFC 9457, as it came; undefined where the answer was none. */
    readonly problem: Problem | undefined,
  ) {
    super(`Heatbook refuses the request (${String(status)}): ${problem?.detail ?? 'it does not say why'}`);
  }
}

/** No answer, or one that says to come again. The same request may succeed later. */
export class Unreachable extends StationError {
  override readonly name = 'Unreachable';
  readonly code = 'unreachable';

  constructor(
    message: string,
    /** How long Heatbook asked to wait, ms. */
    readonly retryAfterMs?: number,
    /** Of the answer, where there was one. */
    readonly status?: number,
    options?: ErrorOptions,
  ) {
    super(message, options);
  }
}

/** The time was up before everything was delivered. What is left stays in the spool. */
export class NotDrained extends StationError {
  override readonly name = 'NotDrained';
  readonly code = 'not-drained';

  constructor(
    readonly pending: number,
    /** The last trouble on the way. */
    readonly lastError: StationError | undefined,
  ) {
    super(`${String(pending)} events still wait in the spool${lastError ? `: ${lastError.message}` : '.'}`);
  }
}

/** Why Heatbook turned something away (RFC 9457). */
export interface Problem {
  /** `urn:heatbook:problem:` and a code that stays the same. */
  readonly type: string;
  readonly title?: string;
  readonly status: number;
  readonly detail?: string;
  readonly errors?: readonly EventFault[];
}

import { StreamKey } from '../../domain/subject/subject.js';
import { ClearanceRecord, ClearanceState } from '../clearances/clearance-record.js';

/** A request that may come again: by whom, under which key, and what it said. */
export interface KeyedRequest {
  /** Name of the station or account that asks. */
  readonly caller: string;
  /** Idempotency-Key as the caller chose it. */
  readonly key: string;
  /** Lower-case hex SHA-256 of the request's canonical form. */
  readonly bodyHash: string;
}

/** What was answered before; `other-body` where the key came with another request. */
export type AnswerBefore = { readonly answer: unknown } | 'other-body' | undefined;

/** Clearances inside a transaction of the book. */
export interface ClearanceTransaction {
  /** These, locked, by id. Ids that are none are passed over. */
  clearances(ids: readonly string[]): Promise<readonly ClearanceRecord[]>;
  /** All that are for these subjects or reserve something of them, locked, by id; with `openAt`, those open at that time. */
  clearancesOn(keys: readonly StreamKey[], openAt?: string): Promise<readonly ClearanceRecord[]>;
  /** The subjects of clearances that are open at a time and reach these, without locking anything. */
  subjectsReaching(keys: readonly StreamKey[], openAt: string): Promise<readonly StreamKey[]>;
  /**
   * What was answered to this request before. Where that is nothing, the same request of another transaction waits until
   * this one has ended.
   */
  answerBefore(request: KeyedRequest): Promise<AnswerBefore>;
  /** Keeps the answer of a request that was asked about before. */
  keepAnswer(request: KeyedRequest, answer: unknown): Promise<void>;
}

export interface ClearanceFilter {
  readonly assembly?: string;
  readonly serial?: string;
  /** The loose device that it is for. */
  readonly device?: string;
  readonly station?: string;
  readonly state?: ClearanceState;
}

/** What is looked for from time to time. */
export interface ClearanceUpkeep {
  /** Those whose time was over by `now` with steps left and no lapse written, first over first. */
  clearancesOver(now: string, limit: number): Promise<readonly Pick<ClearanceRecord, 'id' | 'subject'>[]>;
  /** Forgets answers to requests that were first made before a time, RFC 3339. */
  forgetAnswers(before: string): Promise<void>;
}

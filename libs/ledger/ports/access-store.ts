import { Role } from '../identity/principal.js';
import { Page, PageRequest } from './read-store.js';

export const ACCESS_KINDS = [
  'refused',
  'signed-in',
  'signed-out',
  'key-issued',
  'key-revoked',
  'account-changed',
  'setup-changed',
] as const;
/** What is on record: a request that was refused, or one that changed who may do what. */
export type AccessKind = (typeof ACCESS_KINDS)[number];

/** One line of the access record. It names whom and what, and never holds a key, a password or a body. */
export interface AccessRecord {
  /** RFC 3339 UTC. */
  readonly at: string;
  readonly kind: AccessKind;
  /** Name of the station or account, or the one that was tried; null where the request named none. */
  readonly caller: string | null;
  readonly roles: readonly Role[];
  /** Method and pattern, such as `GET /v1/units/:assembly/:serial`; null for what came by no route. */
  readonly route: string | null;
  /** What it was about, such as `BRD-1/0001`. */
  readonly subject: string | null;
  /** Code of the problem that was answered, or what was done. */
  readonly outcome: string;
}

export interface AccessFilter {
  /** RFC 3339; from inclusive, to exclusive. */
  readonly from?: string;
  readonly to?: string;
  readonly kind?: AccessKind;
  readonly caller?: string;
}

/** The record of who was refused, who came in, and who changed the setup. Nothing is ever taken out of it. */
export interface AccessStore {
  /** Keeps records; they are durable once it returns. Setup changes are on record without it, with their revision. */
  append(records: readonly AccessRecord[]): Promise<void>;
  /** Newest first. */
  list(filter: AccessFilter, page: PageRequest): Promise<Page<AccessRecord>>;
}

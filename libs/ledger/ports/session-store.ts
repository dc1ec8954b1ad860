import { Person } from './person-store.js';

/** Somebody who has signed in, in one browser. */
export interface Session {
  /** Lower-case hex SHA-256 of the token that the cookie carries; the token itself is kept nowhere. */
  readonly tokenHash: string;
  readonly person: string;
  /** RFC 3339 UTC. */
  readonly startedAt: string;
  /** RFC 3339 UTC, of about the last request. */
  readonly seenAt: string;
}

/** Sessions of one person that are kept; the oldest gives way to one more. */
export const MOST_SESSIONS = 10;

export interface SessionStore {
  /**
   * Keeps a session, if nothing about the person has changed since `revision`: a password that was right a moment ago
   * may have been changed, and its sessions ended.
   * @returns false where it has, or there is no such person.
   */
  begin(session: Session, revision: number): Promise<boolean>;
  /** With the person as they are now. */
  find(tokenHash: string): Promise<{ readonly session: Session; readonly person: Person } | undefined>;
  /** Notes that it is in use. @param at RFC 3339 UTC */
  touch(tokenHash: string, at: string): Promise<void>;
  end(tokenHash: string): Promise<void>;
}

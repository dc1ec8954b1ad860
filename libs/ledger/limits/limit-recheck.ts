import { StreamKey } from '../../domain/subject/subject.js';

/** How far the subjects in the house have been judged anew for one revision of a limit. */
export interface LimitRecheck {
  readonly limit: string;
  readonly revision: number;
  /** When the revision comes into force, RFC 3339 UTC. */
  readonly effectiveAt: string;
  /** `none`: nothing is judged anew; `why` says why. */
  readonly state: 'waiting' | 'running' | 'done' | 'none';
  readonly why: string | null;
  /** The setup under which all of it is judged; null until it begins. */
  readonly version: number | null;
  /** Units are gone through first, with what is on them, then loose devices. */
  readonly phase: OpenKind;
  /** The last one that is done; null at the beginning of a phase. */
  readonly after: StreamKey | null;
  /** Units and devices judged anew so far. */
  readonly subjects: number;
  readonly holdsRaised: number;
  readonly holdsWithdrawn: number;
  /** Holds that a person had worked on, which therefore stay and say that their cause is gone. */
  readonly holdsMarked: number;
  readonly warnings: number;
  readonly startedAt: string | null;
  readonly finishedAt: string | null;
}

/** What is in the house: units that have not left, and loose devices. */
export type OpenKind = 'unit' | 'device';

export const OPEN_STATUSES: Readonly<Record<OpenKind, readonly string[]>> = {
  unit: ['expected', 'in-house'],
  device: ['loose'],
};

export function newRecheck(limit: string, revision: number, effectiveAt: string): LimitRecheck {
  return {
    ...{ limit, revision, effectiveAt, state: 'waiting', why: null, version: null, phase: 'unit', after: null },
    ...{ subjects: 0, holdsRaised: 0, holdsWithdrawn: 0, holdsMarked: 0, warnings: 0 },
    ...{ startedAt: null, finishedAt: null },
  };
}

export function isOver({ state }: LimitRecheck): boolean {
  return state === 'done' || state === 'none';
}

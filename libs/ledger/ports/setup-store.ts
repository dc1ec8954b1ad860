import { SetupData, SetupKind } from '../../domain/setup/setup-data.js';

/** One revision of one setup record, as kept. */
export type StoredRevision = {
  [K in SetupKind]: {
    readonly kind: K;
    readonly name: string;
    /** 1, 2, 3, … per record. */
    readonly revision: number;
    /** Place among all revisions of all records. */
    readonly version: number;
    readonly body: SetupData[K];
    readonly by: string;
    /** RFC 3339 UTC. */
    readonly at: string;
  };
}[SetupKind];

/** Where setup data is kept. Every revision stays. */
export interface SetupStore {
  /** Adds a revision, unless the newest one has the same body: that is answered instead. */
  revise<K extends SetupKind>(kind: K, name: string, body: SetupData[K], by: string): Promise<StoredRevision>;
  /** Revisions with a version above the given one, in order of version. */
  revisionsAfter(version: number): Promise<readonly StoredRevision[]>;
}

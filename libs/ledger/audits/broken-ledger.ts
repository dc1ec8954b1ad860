import { StreamKey } from '../../domain/subject/subject.js';

/** A ledger is not what its head says: nothing may be handed out that looks as if it were whole. */
export class BrokenLedger extends Error {
  override readonly name = 'BrokenLedger';

  constructor(
    readonly subject: StreamKey,
    found: string,
  ) {
    super(
      `The ledger of ${subject} does not hold together: ${found}. ` +
        'Nothing of it is handed out; whoever runs the service must look for what changed the table ledger_entry, and restore it.',
    );
  }
}

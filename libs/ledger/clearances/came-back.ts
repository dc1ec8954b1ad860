import { orderTime } from '../../domain/events/event-order.js';
import { streamOfHold } from '../../domain/holds/hold-subject.js';
import { readLedgers } from '../fold/rejudged.js';
import { decisionOn, HoldRecord } from '../holds/hold-record.js';
import { BookTransaction } from '../ports/book-store.js';

/**
 * Tells of holds decided to be returned whether what they are on has come in again since: a unit was shipped and received
 * after that, a loose device received. Ledgers are read only where there is such a hold.
 */
export async function returnsOf(
  tx: Pick<BookTransaction, 'entries'>,
  holds: readonly HoldRecord[],
): Promise<(hold: HoldRecord) => boolean> {
  const sentBack = holds.filter((hold) => hold.state !== 'withdrawn' && decisionOn(hold) === 'return-to-customer');
  if (sentBack.length === 0) return () => false;
  const entries = await tx.entries([...new Set(sentBack.map(({ subject }) => streamOfHold(subject)))]);
  const facts = readLedgers(entries).facts.filter(({ struck }) => !struck);
  return (hold) => {
    const decidedAt = hold.dispositions.at(-1)?.signature.at;
    if (decidedAt === undefined) return false;
    const after = (type: string, from: string): string | undefined =>
      facts
        .filter(({ event }) => event.subject === streamOfHold(hold.subject) && event.type === type)
        .map(({ event }) => event.order.at)
        .sort()
        .find((at) => at > from);
    if (hold.subject.kind === 'device') return after('heatbook.device.received.v1', orderTime(decidedAt)) !== undefined;
    const shippedAt = after('heatbook.unit.shipped.v1', orderTime(decidedAt));
    return shippedAt !== undefined && after('heatbook.unit.received.v1', shippedAt) !== undefined;
  };
}

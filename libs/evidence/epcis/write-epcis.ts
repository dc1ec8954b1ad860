import { AuditSource } from '../../ledger/audits/audit-source.js';
import { textChunks } from '../text-chunks.js';
import { HouseUris } from './house-uris.js';
import { ledgerEvents, LedgerTally } from './ledger-events.js';
import { whyLeftOut } from './left-out.js';
import { EPCIS_CONTEXT, inOwnTerms } from './own-terms.js';

/**
 * Writes an export as an EPCIS 2.0 document in JSON-LD, a page of entries at a time. It ends in our member
 * `heatbook:export`, which counts what it has and what it leaves out; docs/guide/epcis.md says what becomes of what.
 * @throws Error while it is read, where a ledger has fewer entries than it says
 */
export function writeEpcis(source: AuditSource): AsyncIterable<Uint8Array> {
  return textChunks(documentText(source));
}

async function* documentText(source: AuditSource): AsyncGenerator<string> {
  const head = {
    '@context': EPCIS_CONTEXT,
    type: 'EPCISDocument',
    schemaVersion: '2.0',
    creationDate: source.exportedAt,
  };
  yield `${JSON.stringify(head).slice(0, -1)},"epcisBody":{"eventList":[`;
  const uris = new HouseUris(source.log?.origin ?? null);
  const tallies: LedgerTally[] = [];
  let before = '\n';
  for (const ledger of [source.ledger, ...source.devices]) {
    const tally = new LedgerTally(ledger);
    tallies.push(tally);
    for await (const event of ledgerEvents(ledger, uris, tally)) {
      yield before + JSON.stringify(event);
      before = ',\n';
    }
  }
  yield `\n]},"heatbook:export":${JSON.stringify(inOwnTerms(summary(source, tallies)))}}\n`;
}

/** What the document holds, so that one which was cut and closed again does not look whole. */
function summary({ ledger, audience, exportedAt }: AuditSource, tallies: readonly LedgerTally[]): object {
  const leftOut = new Map<string, number>();
  for (const tally of tallies) {
    for (const [type, entries] of tally.leftOut) leftOut.set(type, (leftOut.get(type) ?? 0) + entries);
  }
  const sum = (of: (tally: LedgerTally) => number): number => tallies.reduce((total, tally) => total + of(tally), 0);
  return {
    subject: ledger.subject,
    headHash: ledger.headHash,
    exportedAt,
    audience,
    entries: sum(({ entries }) => entries),
    events: sum(({ events }) => events),
    errorDeclarations: sum(({ errorDeclarations }) => errorDeclarations),
    leftOut: [...leftOut].map(([type, entries]) => ({ type, entries, because: whyLeftOut(type) })),
    ledgers: tallies.map(({ ledger: { subject, headHash }, entries, events }) => ({
      ...{ ledger: subject, entries, headHash, events },
    })),
  };
}

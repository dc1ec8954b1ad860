import { ArchiveDeps } from '../../libs/evidence/archive/archive-deps.js';
import { newestCensus } from '../../libs/evidence/archive/newest-census.js';
import { auditFormats } from '../../libs/evidence/audit-formats.js';
import { openAudit } from '../../libs/ledger/audits/open-audit.js';
import { LogReader } from '../../libs/ledger/log/log-reader.js';
import { readUnit } from '../../libs/ledger/views/read-unit.js';
import { House } from '../house/open-house.js';

/** After entries were waited for in vain, the next units are not waited for so long. */
const NO_PATIENCE_MS = 60_000;

/** What archives of a house are made from: each is read with the eyes of whoever asked for it. */
export function archiveDeps(house: House): ArchiveDeps {
  const { archives, book, traces, identity, signer, log, reads, customerReads, logDeps } = house;
  const { setup, clock } = book;
  const siteLog = patientOnce(house.siteLog, () => performance.now());
  return {
    ...{ archives, clock, log, signer, formats: auditFormats({ signer }) },
    open: async ({ customer }, unit, wish) => {
      const own = customer === null ? reads : customerReads.of(customer);
      const reading = await readUnit({ reads: own, setup, clock }, unit);
      if (reading === undefined) return undefined;
      const deps = { reads: own, traces, names: identity.names, siteLog, setup, clock };
      return openAudit(deps, reading, { for: customer === null ? 'house' : 'customer', ...wish });
    },
    checkpoint: async () => (await logDeps.siteLog.checkpoint())?.note ?? null,
    census: (assembly) => {
      const hashing = { sha256: logDeps.sha256, canonical: (value: unknown) => logDeps.seal.canonical(value) };
      return newestCensus({ siteLog: logDeps.siteLog, reads, proofs: house.siteLog, hashing }, assembly);
    },
  };
}

/**
 * A reader of the log that waits for entries like another, but where that was in vain, not again for a minute: with a log that
 * stands still an archive of many units would take hours.
 * @param nowMs a clock that only goes forward, ms
 */
export function patientOnce(siteLog: LogReader, nowMs: () => number): LogReader {
  let inVainUntilMs = -Infinity;
  return {
    caughtUp: async (ledgers, patienceMs) => {
      const caughtUp = await siteLog.caughtUp(ledgers, nowMs() < inVainUntilMs ? 0 : patienceMs);
      if (!caughtUp && nowMs() >= inVainUntilMs) inVainUntilMs = nowMs() + NO_PATIENCE_MS;
      return caughtUp;
    },
    evidence: (ledgers, since) => siteLog.evidence(ledgers, since),
  };
}

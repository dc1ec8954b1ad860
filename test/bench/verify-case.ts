import { createHash } from 'node:crypto';
import { buffer } from 'node:stream/consumers';
import { writeAuditJson } from '../../libs/evidence/json/write-audit-json.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { sampleLedger, sampleSource, stationEntry } from '../../libs/evidence/spec-support/sample-source.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { BenchCase } from './bench-case.js';

const ENTRIES = 100_000;

/** The offline check of one long audit, beside what reading it and hashing it once take. */
export async function verifyCase(): Promise<BenchCase> {
  const bodies = Array.from({ length: ENTRIES }, (_, index) => stationEntry(index + 1, { data: heatOf(index + 1) }));
  const { ledger } = sampleLedger('DEMO-100/SN-1', bodies);
  const text = (await buffer(writeAuditJson(sampleSource(ledger), null))).toString('utf8');
  return {
    title: 'verify',
    what: `check an audit of ${ENTRIES} entries (${Math.round(text.length / 1e6)} MB) offline`,
    runs: [
      {
        name: 'heatbook verify',
        run: async () => {
          const { holds, entries } = await verifyAudit(text, nodeDigests);
          if (!holds || entries !== ENTRIES) throw new Error('the audit does not hold');
        },
      },
      {
        name: 'JSON.parse, and SHA-256 of the text',
        run: () => {
          const document: unknown = JSON.parse(text);
          return Promise.resolve([document, createHash('sha256').update(text).digest('hex')]);
        },
      },
    ],
    rounds: 3,
    close: () => Promise.resolve(),
  };
}

/** As much as a placement says. */
function heatOf(number: number): object {
  const thermocouples = ['joint', 'body', 'board'].map((position, index) => {
    return { id: `TC${index + 1}`, refdes: 'U7', position, peakC: 231.5 + (number % 7) - index, uncertaintyC: 1.5 };
  });
  const heat = { startedAt: '2030-01-07T08:52:00+01:00', endedAt: '2030-01-07T08:58:30+01:00', thermocouples };
  const profile = { name: 'BIG-ON', revision: 'C' };
  return { refdes: 'U7', device: `K-${number}`, attach: 'flux', operator: 'op-7', profile, heat };
}

import { createHash } from 'node:crypto';
import { buffer } from 'node:stream/consumers';
import { writeAuditJson } from '../../libs/evidence/json/write-audit-json.js';
import { nodeDigests } from '../../libs/evidence/node-digests.js';
import { sampleLedger, sampleSource, stationEntry } from '../../libs/evidence/spec-support/sample-source.js';
import { verifyAudit } from '../../libs/evidence/verify/verify-audit.js';
import { BenchCase, BenchSize } from './bench-case.js';
import { elapsedMs } from './elapsed-ms.js';

/** The offline check of one long audit, beside what reading it and hashing it once take. */
export async function verifyCase({ quick }: BenchSize): Promise<BenchCase> {
  const length = quick ? 10_000 : 100_000;
  const bodies = Array.from({ length }, (_, index) => stationEntry(index + 1, { data: heatOf(index + 1) }));
  const { ledger } = sampleLedger('DEMO-100/SN-1', bodies);
  const text = (await buffer(writeAuditJson(sampleSource(ledger), null))).toString('utf8');
  return {
    title: 'verify',
    what: `check an audit of ${length} entries (${Math.round(text.length / 1e6)} MB) offline`,
    measures: [
      {
        name: 'verify',
        unit: 'ms',
        take: () =>
          elapsedMs(async () => {
            const { holds, entries } = await verifyAudit(text, nodeDigests);
            if (!holds || entries !== length) throw new Error('the audit does not hold');
          }),
      },
      {
        name: 'parse and hash the text',
        unit: 'ms',
        take: () =>
          elapsedMs(() => {
            const document: unknown = JSON.parse(text);
            return [document, createHash('sha256').update(text).digest('hex')];
          }),
      },
    ],
    ratios: [{ name: 'verify/parse-and-hash', of: 'verify', over: 'parse and hash the text' }],
    rounds: 3,
    warmUps: 1,
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

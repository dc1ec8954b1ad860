import { writeAuditJson } from '../../../../libs/evidence/json/write-audit-json.js';
import { writePdf } from '../../../../libs/evidence/pdf/write-pdf.js';
import { AuditSource } from '../../../../libs/ledger/audits/audit-source.js';
import { openAudit } from '../../../../libs/ledger/audits/open-audit.js';
import { LogSigner } from '../../../../libs/ledger/log/log-signer.js';
import { readUnit } from '../../../../libs/ledger/views/read-unit.js';
import { loadDemo } from '../load-demo.js';
import { ExampleHouse } from './example-house.js';
import { exampleNames } from './example-people.js';
import { EXAMPLE_KEY, EXAMPLE_UNIT } from './example-steps.js';
import { nextDayOnBoard } from './next-day.js';

/** An export that is ready to be written in any form, and what signs it. */
export interface OpenExample {
  readonly source: AuditSource;
  readonly signer: LogSigner | null;
}

/** Opens the audit of the demo’s worst board, on a book that is made from nothing; the same on every machine. */
export async function openExample(): Promise<OpenExample> {
  const house = await ExampleHouse.open('2026-03-02T06:00:00Z');
  await loadDemo(house, (post) => house.heard(post, EXAMPLE_KEY));
  await house.endDay('2026-03-04T00:05:00Z');
  await nextDayOnBoard(house);
  await house.endDay('2026-03-05T00:05:00Z');
  house.reach('2026-03-05T08:00:00Z');
  const { setup, clock } = house.book;
  const { reads, traces } = house;
  const reading = await readUnit({ reads, setup, clock }, EXAMPLE_UNIT);
  if (reading === undefined) throw new Error('the book of the example does not know its unit');
  const { siteLog, logDeps } = house.log;
  const deps = { reads, traces, names: exampleNames, siteLog, setup, clock };
  return { source: await openAudit(deps, reading, { for: 'house' }), signer: logDeps.signer ?? null };
}

/** One export in two forms, as files. */
export interface ExampleAudit {
  readonly pdf: Uint8Array;
  readonly json: Uint8Array;
}

export async function exampleAudit({ source, signer }: OpenExample): Promise<ExampleAudit> {
  return { pdf: await whole(writePdf(source)), json: await whole(writeAuditJson(source, signer)) };
}

async function whole(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const all: Uint8Array[] = [];
  for await (const piece of pieces) all.push(piece);
  return Buffer.concat(all);
}

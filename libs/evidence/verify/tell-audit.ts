import { parseCheckpoint } from '../../ledger/log/notes/checkpoint.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import type { ReadAudit, ReadLedger } from './read-audit.js';
import { asRecord } from './read-members.js';
import type { AuditTale, ToldList } from './verification-report.js';

/** Of each list that many are told; the rest is counted. */
const TOLD = 100;

/** Sums up a file. */
export function tellAudit({ extras, exportedAt }: ReadAudit, ledgers: readonly ReadLedger[]): AuditTale {
  const types = new Map<string, number>();
  const struck: AuditTale['struck']['first'][number][] = [];
  const signatures: AuditTale['signatures']['first'][number][] = [];
  for (const { subject: ledger, entries } of ledgers) {
    entries.forEach((value, index) => {
      const entry = asRecord(value);
      if (entry === null) return;
      const type = textOf(entry.type);
      types.set(type, (types.get(type) ?? 0) + 1);
      const signature = asRecord(asRecord(entry.data)?.signature);
      if (signature === null) return;
      const [seq, by] = [index + 1, textOf(signature.by)];
      signatures.push({ ledger, seq, by, meaning: textOf(signature.meaning), at: textOf(signature.at) });
      if (type === 'heatbook.entry.annulled.v1') struck.push({ ledger, seq, event: eventOf(entry.event), by });
    });
  }
  const of = (type: string) => types.get(type) ?? 0;
  return {
    exportedAt: typeof exportedAt === 'string' ? exportedAt : null,
    heads: told(ledgers.map(({ subject: ledger, count, headHash }) => ({ ledger, count, headHash }))),
    checkpoint: checkpointOf(extras?.log),
    types: sorted(types).map(([type, count]) => ({ type, count })),
    struck: told(struck),
    rejudged: of('heatbook.entry.rejudged.v1'),
    concessions: { signed: of('heatbook.concession.signed.v1'), withdrawn: of('heatbook.concession.withdrawn.v1') },
    signatures: told(signatures),
    holds: extras && holdsOf(extras.holds),
  };
}

function checkpointOf(log: unknown): AuditTale['checkpoint'] {
  const note = asRecord(log)?.checkpoint;
  const text = typeof note === 'string' ? parseNote(note)?.text : undefined;
  const read = text === undefined ? undefined : parseCheckpoint(text);
  return read === undefined ? null : { size: read.size, root: toHex(read.root) };
}

function holdsOf(holds: readonly unknown[]): NonNullable<AuditTale['holds']> {
  const states = new Map<string, number>();
  for (const hold of holds) {
    const state = textOf(asRecord(hold)?.state);
    states.set(state, (states.get(state) ?? 0) + 1);
  }
  return sorted(states).map(([state, count]) => ({ state, count }));
}

function told<T>(items: readonly T[]): ToldList<T> {
  return { count: items.length, first: items.slice(0, TOLD) };
}

function sorted(counts: ReadonlyMap<string, number>): [string, number][] {
  return [...counts].sort(([left], [right]) => (left < right ? -1 : 1)).slice(0, TOLD);
}

function eventOf(event: unknown): string {
  const { source, id } = asRecord(event) ?? {};
  return `${textOf(source)} ${textOf(id)}`;
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '?';
}

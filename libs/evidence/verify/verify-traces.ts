import type { ReadLedger } from './read-audit.js';
import { asRecord, Malformed, Members } from './read-members.js';
import { ofTheFile, outcomeOf, type Finding, type Outcome } from './verification-report.js';

const CHECK = 'the traces that steps name are named by their hashes, each once';
/** Names that a note tells; the rest is counted. */
const TOLD = 5;

/** Checks the list of traces. Their texts are not in the file: whoever has one can hash it and compare. */
export function verifyTraces(traces: readonly unknown[], ledgers: readonly ReadLedger[]): Outcome {
  const listed = new Set<string>();
  const findings: Finding[] = [];
  traces.forEach((value, index) => {
    try {
      const trace = Members.of(value, `/traces/${index}`);
      const name = trace.text('name');
      trace.hash('contentHash');
      if (listed.has(name)) throw trace.malformed('name', `stands a second time (${name})`);
      listed.add(name);
    } catch (error) {
      if (!(error instanceof Malformed)) throw error;
      findings.push(ofTheFile('trace-malformed', `The list of traces cannot be read: ${error.message}.`));
    }
  });
  return outcomeOf(CHECK, findings, notesOn(namedTraces(ledgers).filter((name) => !listed.has(name))));
}

/** Traces that entries name in their heats, each once. */
function namedTraces(ledgers: readonly ReadLedger[]): string[] {
  const named = new Set<string>();
  for (const { entries } of ledgers) {
    for (const entry of entries) {
      const trace = asRecord(asRecord(asRecord(entry)?.data)?.heat)?.trace;
      if (typeof trace === 'string') named.add(trace);
    }
  }
  return [...named];
}

function notesOn(missing: readonly string[]): string[] {
  if (missing.length === 0) return [];
  const rest = missing.length > TOLD ? ` and ${missing.length - TOLD} more` : '';
  return [`Entries name traces whose hashes the file does not give: ${missing.slice(0, TOLD).join(', ')}${rest}.`];
}

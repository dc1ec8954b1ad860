import type { Digests } from '../digests.js';
import type { ArchiveCensus } from './archive-census.js';
import type { SoundFile } from './archive-files.js';
import type { Kept } from './kept.js';
import { OneLog } from './one-log.js';
import type { ReadAudit } from './read-audit.js';
import { AUDIT_EXTENSION, type Manifest, type ManifestUnit } from './read-manifest.js';
import { asRecord } from './read-members.js';
import { ofTheFile, outcomeOf, together, type Finding, type Outcome } from './verification-report.js';
import { againstAnchors } from './verify-anchors.js';
import { checkAudit } from './verify-audit.js';

const HOLD = 'the audit of every unit holds by itself';
const AS_LISTED = 'every audit is of the unit that the manifest lists, and as long';
const ONE_STORY = 'the log has told all of them the same, and the census as well';
const TRACES = 'every trace is one that an audit names';

/** Checks the audits of an archive, one after the other, and keeps of each what has to agree with the others. */
export class ArchiveAudits {
  units = 0;
  entries = 0;
  readonly log = new OneLog();

  readonly #unitOf: ReadonlyMap<string, ManifestUnit>;
  readonly #found: Finding[] = [];
  readonly #mislisted: Finding[] = [];
  readonly #forked: Finding[] = [];
  /** Traces of the archive, by their hashes. */
  readonly #traces = new Map<string, string>();
  /** Hashes of the traces that audits name. */
  readonly #named = new Set<unknown>();
  /** In how many files each stands. */
  readonly #notes = new Map<string, number>();

  constructor(
    manifest: Manifest,
    private readonly census: ArchiveCensus,
    private readonly digests: Digests,
    private readonly kept: Kept,
  ) {
    this.#unitOf = new Map(manifest.units.flatMap((unit) => unit.files.map((name) => [name, unit])));
  }

  /** Takes a file that is what the manifest says. */
  async take({ name, sha256, content }: SoundFile): Promise<void> {
    if (name.endsWith(AUDIT_EXTENSION)) await this.#audit(name, content);
    else if (name.startsWith('traces/')) this.#traces.set(name, sha256);
  }

  outcome(): Outcome {
    const notes = [...this.#notes].map(([note, files]) => (files === 1 ? note : `In ${files} files: ${note}`));
    const stray = [...this.#traces].filter(([, sha256]) => !this.#named.has(sha256));
    return together([
      outcomeOf(`${HOLD} (${this.units})`, this.#found, notes),
      outcomeOf(AS_LISTED, this.#mislisted),
      outcomeOf(ONE_STORY, this.#forked),
      outcomeOf(
        TRACES,
        stray.map(([name]) => inFile(name, ofTheFile('file-added', `${name} is no trace that an audit names.`))),
      ),
    ]);
  }

  async #audit(name: string, content: Uint8Array): Promise<void> {
    const { report, audit } = await checkAudit(textOf(content), this.digests, this.kept);
    this.units += 1;
    this.entries += report.entries;
    this.#found.push(...report.findings.map((finding) => inFile(name, finding)));
    for (const note of report.notes) this.#notes.set(note, (this.#notes.get(note) ?? 0) + 1);
    if (audit === null) return;
    this.#mislisted.push(...asListed(audit, this.#unitOf.get(name)).map((finding) => inFile(name, finding)));
    for (const trace of audit.extras?.traces ?? []) this.#named.add(asRecord(trace)?.contentHash);
    if (audit.extras === null || report.findings.length > 0) return;
    const forked = [...againstAnchors(audit.unit, this.census.of(audit.subject)), ...this.log.take(audit.extras)];
    this.#forked.push(...forked.map((finding) => inFile(name, finding)));
  }
}

function asListed({ assembly, serial, unit }: ReadAudit, listed: ManifestUnit | undefined): Finding[] {
  if (listed === undefined)
    return [ofTheFile('manifest-mismatch', 'The manifest names no unit that this audit is of.')];
  if (listed.assembly !== assembly || listed.serial !== serial) {
    const what = `This is the audit of ${assembly}/${serial}; the manifest has it as that of ${listed.assembly}/${listed.serial}.`;
    return [ofTheFile('manifest-mismatch', what)];
  }
  if (listed.count === unit.count && listed.headHash === unit.headHash) return [];
  const what = `The manifest has ${listed.count} entries up to ${listed.headHash}, this audit ${unit.count} up to ${unit.headHash}.`;
  return [{ ledger: unit.subject, seq: null, code: 'manifest-mismatch', what }];
}

function inFile(file: string, finding: Finding): Finding {
  return { ...finding, file };
}

/** Bytes that are no UTF-8 make a text that is no JSON. */
function textOf(content: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(content);
  } catch {
    return '\0';
  }
}

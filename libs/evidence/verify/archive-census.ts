import { censusLedgerLeaf, type CensusHashing } from '../../ledger/log/census-tree.js';
import type { LedgerPlace } from '../../ledger/log/log-evidence.js';
import { readerOf } from '../../ledger/log/merkle/leaf-tree.js';
import { rootAt } from '../../ledger/log/merkle/merkle-proofs.js';
import { parseCheckpoint } from '../../ledger/log/notes/checkpoint.js';
import { toHex } from '../../ledger/log/notes/hex.js';
import { parseNote } from '../../ledger/log/notes/signed-note.js';
import { canonicalJson } from '../canonical-json.js';
import type { Digests } from '../digests.js';
import { censusGroupOf, ledgerPlaceOf, type ReadCensusGroup } from './read-log.js';
import type { Manifest } from './read-manifest.js';
import { Malformed, Members } from './read-members.js';
import { ofTheFile, outcomeOf, type Finding, type Outcome } from './verification-report.js';
import { censusGroupFault } from './verify-census.js';
import type { Anchor } from './verify-inclusion.js';

export const CENSUS_FILE = 'census.json';
const CHECK = 'the census lists its assemblies as the log has it, and none of its units has vanished';
const MOST_GROUPS = 1000;
/** Names that a note tells; the rest is counted. */
const TOLD = 10;

/** Every ledger of an assembly on the day of a census. */
interface CensusList extends ReadCensusGroup {
  readonly checkpoint: string;
  readonly ledgers: readonly LedgerPlace[];
}

/** What the census of an archive says of the ledgers in it. */
export class ArchiveCensus {
  readonly #places = new Map<string, Anchor>();

  private constructor(
    private readonly lists: readonly CensusList[],
    private readonly findings: readonly Finding[],
  ) {
    for (const { data, ledgers } of lists) {
      for (const place of ledgers) this.#places.set(place.subject, { ...place, witness: `the census of ${data.day}` });
    }
  }

  /** @param content of the file; undefined where the archive has none */
  static async read(content: Uint8Array | undefined, { sha256 }: Digests): Promise<ArchiveCensus> {
    if (content === undefined) return new ArchiveCensus([], []);
    try {
      const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(content);
      const lists = Members.of(JSON.parse(text), '').each('groups', MOST_GROUPS).map(listOf);
      const faults = await Promise.all(lists.map((list) => faultOf(list, { sha256, canonical: canonicalJson })));
      const findings = lists.flatMap(({ data, group }, index) => {
        const fault = faults[index];
        const what = `The census of ${data.day} over ${group.group} is none that the log vouches for: ${fault ?? ''}.`;
        return fault === undefined ? [] : [ofTheFile('census-broken', what)];
      });
      return new ArchiveCensus(
        lists.filter((_, index) => faults[index] === undefined),
        findings,
      );
    } catch (error) {
      const why = error instanceof Malformed ? error.message : 'it is no JSON';
      return new ArchiveCensus([], [ofTheFile('census-broken', `${CENSUS_FILE} cannot be read: ${why}.`)]);
    }
  }

  /** Checkpoints that its proofs end at. */
  get checkpoints(): readonly string[] {
    return this.lists.map(({ checkpoint }) => checkpoint);
  }

  /** What it says of a ledger. */
  of(subject: string): Anchor[] {
    const place = this.#places.get(subject);
    return place === undefined ? [] : [place];
  }

  /** Holds what the archive has, and what it says that the house has not, against the census. */
  outcome({ units, missing }: Manifest): Outcome {
    const vanished = missing.flatMap(({ assembly, serial }): Finding[] => {
      const [place] = this.of(`${assembly}/${serial}`);
      if (place === undefined) return [];
      const what = `${place.subject} has vanished: ${place.witness} has ${place.seq} entries of it, and the manifest says that there is none.`;
      return [{ ledger: place.subject, seq: 1, code: 'unit-vanished', what }];
    });
    const here = new Set([...units, ...missing].map(({ assembly, serial }) => `${assembly}/${serial}`));
    const notes = this.lists.flatMap(({ data, group, ledgers }) => {
      const absent = ledgers.filter(({ subject }) => !here.has(subject));
      return absent.length === 0 ? [] : [absentNote(data.day, group.group, ledgers.length, absent)];
    });
    return outcomeOf(CHECK, [...this.findings, ...vanished], notes);
  }
}

function absentNote(day: string, assembly: string, all: number, absent: readonly LedgerPlace[]): string {
  const names = absent.slice(0, TOLD).map(({ subject }) => subject);
  const rest = absent.length > TOLD ? ` and ${absent.length - TOLD} more` : '';
  return (
    `The census of ${day} has ${all} units of ${assembly}; not in this archive: ${names.join(', ')}${rest}. ` +
    'If you asked for all of them, ask where they are.'
  );
}

function listOf(list: Members): CensusList {
  const ledgers = list.each('ledgers').map(ledgerPlaceOf);
  return { ...censusGroupOf(list), checkpoint: list.text('checkpoint'), ledgers };
}

async function faultOf(list: CensusList, hashing: CensusHashing): Promise<string | undefined> {
  const { checkpoint, group, ledgers } = list;
  const head = parseCheckpoint(parseNote(checkpoint)?.text ?? '');
  if (head === undefined) return 'its checkpoint cannot be read';
  const fault = censusGroupFault(list, head, hashing);
  if (fault !== undefined) return fault;
  const read = readerOf(
    hashing.sha256,
    ledgers.map((place) => censusLedgerLeaf(hashing, place)),
  );
  const root = toHex(await rootAt(hashing.sha256, read, ledgers.length));
  if (ledgers.length !== group.ledgers || root !== group.root)
    return 'its list of ledgers is not the one that it counted';
  return undefined;
}

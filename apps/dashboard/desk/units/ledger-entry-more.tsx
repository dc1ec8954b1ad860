import { Link } from 'wouter';
import { When } from '../kit/when.js';
import { memberIn, textIn, type Entry } from './entry-parts.js';
import { entryInWords } from './entry-words.js';
import { ledgerPath, unitOfStream } from './ledger-path.js';
import type { LedgerSource } from './ledger-queries.js';
import type { LaterWord } from './ledger-story.js';

interface LedgerEntryMoreProps extends LaterWord {
  readonly source: LedgerSource;
  readonly entry: Entry;
}

/** All that an entry has: in words, as it was written, and how to check it. */
export function LedgerEntryMore({ source, entry, struckBy, anew }: LedgerEntryMoreProps) {
  const { details } = entryInWords(entry);
  return (
    <>
      {details.length > 0 && (
        <ul className="ledger-more__details">
          {details.map((detail, n) => (
            <li key={n}>{detail}</li>
          ))}
        </ul>
      )}
      <dl className="facts">
        {struckBy !== null && (
          <>
            <dt>Struck by</dt>
            <dd>
              <Link href={ledgerPath(source, struckBy)}>entry {struckBy}</Link>: nothing follows from this one any more
            </dd>
          </>
        )}
        {anew !== null && (
          <>
            <dt>Judged anew by</dt>
            <dd>
              <Link href={ledgerPath(source, anew.seq)}>entry {anew.seq}</Link>
            </dd>
          </>
        )}
        <MovedBy entry={entry} />
        <dt>Written</dt>
        <dd>
          <When at={entry.recordedAt} /> under setup version {entry.rules}
        </dd>
        {entry.event !== null && (
          <>
            <dt>Event</dt>
            <dd className="mono">
              {entry.event.id} from {entry.event.source}
            </dd>
          </>
        )}
        <dt>Hash</dt>
        <dd className="mono ledger-more__hash">{entry.hash}</dd>
        <dt>Hash before</dt>
        <dd className="mono ledger-more__hash">{entry.prevHash}</dd>
        <dt>In the log</dt>
        <dd>
          <a className="ledger-more__proof" href={proofAddress(source, entry.seq)}>
            Proof that the log has it
          </a>
        </dd>
      </dl>
      <Json title="What was said" value={entry.data} />
      <Json title="What was judged" value={entry.effects} />
    </>
  );
}

/** For an entry of a device that a step of its board made: that step. */
function MovedBy({ entry }: { readonly entry: Entry }) {
  const step = memberIn(entry.data, 'entry');
  const [subject, seq] = [textIn(step, 'subject'), memberIn(step, 'seq')];
  const unit = subject === undefined ? undefined : unitOfStream(subject);
  if (unit === undefined || typeof seq !== 'number') return null;
  return (
    <>
      <dt>By the step of</dt>
      <dd>
        <Link href={ledgerPath(unit, seq)}>
          {unit.assembly} / {unit.serial}, entry {seq}
        </Link>
      </dd>
    </>
  );
}

/** What is shown of one text at most, characters; the audit has it all. */
const MOST_TEXT = 20_000;

function Json({ title, value }: { readonly title: string; readonly value: unknown }) {
  const text = JSON.stringify(value, null, 2);
  if (text === '[]' || text === '{}') return null;
  return (
    <details className="ledger-more__json">
      <summary>{title}, as it stands in the book</summary>
      <pre tabIndex={0} aria-label={title}>
        {text.length > MOST_TEXT ? `${text.slice(0, MOST_TEXT)}\n… the rest is in the audit file` : text}
      </pre>
    </details>
  );
}

function proofAddress(source: LedgerSource, seq: number): string {
  const names =
    source.kind === 'unit' ? { assembly: source.assembly, serial: source.serial } : { device: source.device };
  return `/v1/log/proofs/inclusion?${new URLSearchParams({ ...names, seq: String(seq) }).toString()}`;
}

import { parseStream, StreamKey } from '../domain/subject/subject.js';
import { SubjectRecord, SubjectState } from '../ledger/ports/book-store.js';

export interface SubjectRow {
  readonly key: string;
  readonly kind: SubjectState['kind'] | null;
  readonly head_seq: number;
  readonly head_hash: string;
  readonly state: string | null;
}

export const SUBJECT_COLUMNS = 'key, kind, head_seq, head_hash, state';

export function toRecord(row: SubjectRow): SubjectRecord {
  const { key, kind, head_seq: headSeq, head_hash: headHash, state } = row;
  // The row was written from a state of that kind by `fromRecord`.
  const subject =
    kind === null || state === null ? null : ({ kind, state: JSON.parse(state) as unknown } as SubjectState);
  return { key, state: subject, headSeq, headHash };
}

/** A row of the table `subject` as it is written; `clock_told` says whether the clock's columns are. */
export interface WrittenSubject extends SubjectRow {
  readonly assembly: string | null;
  readonly serial: string | null;
  readonly status: string | null;
  readonly clock_told: boolean;
  readonly clock_warns_at: string | null;
  readonly clock_ends_at: string | null;
}

export function fromRecord({ key, state, headSeq, headHash, clock }: SubjectRecord): WrittenSubject {
  const unit = state?.kind === 'unit' ? state.state : undefined;
  // A device is found by the unit that carries it; a unit of which nothing is known any more is still its customer's.
  const place = state?.kind === 'device' ? state.state.place : (unit ?? namedUnit(key));
  return {
    key,
    kind: state?.kind ?? null,
    assembly: place?.assembly ?? null,
    serial: place?.serial ?? null,
    status: unit?.status ?? (state?.kind === 'device' ? state.state.status : null),
    head_seq: headSeq,
    head_hash: headHash,
    state: state === null ? null : JSON.stringify(state.state),
    clock_told: clock !== undefined,
    clock_warns_at: clock?.warnsAt ?? null,
    clock_ends_at: clock?.endsAt ?? null,
  };
}

function namedUnit(key: StreamKey): { readonly assembly: string; readonly serial: string } | undefined {
  const stream = parseStream(key);
  return stream?.kind === 'unit' ? stream : undefined;
}

import { streamOfHold } from '../domain/holds/hold-subject.js';
import { unitKey } from '../domain/subject/subject.js';
import { HoldRecord } from '../ledger/holds/hold-record.js';

/** A hold as its table keeps it; `jsonb` columns arrive parsed. */
export interface HoldRow {
  readonly id: string;
  readonly state: HoldRecord['state'];
  readonly reason: HoldRecord['reason'];
  readonly subject: HoldRecord['subject'];
  readonly assembly: string | null;
  readonly serial: string | null;
  readonly customer: string | null;
  readonly station: string | null;
  readonly operator: string | null;
  readonly raised_at: Date;
  readonly raised_by: string | null;
  readonly causes: HoldRecord['causes'];
  readonly evidence: HoldRecord['evidence'];
  readonly remedy: string;
  readonly touched: boolean;
  readonly cause_gone: boolean;
  readonly release: HoldRecord['release'];
  readonly dispositions: HoldRecord['dispositions'];
  readonly assignee: string | null;
  readonly due_at: Date | null;
  readonly comments: HoldRecord['comments'];
  readonly containment: string | null;
}

export const HOLD_COLUMNS = `id, state, reason, subject, assembly, serial, customer, station, operator, raised_at, raised_by,
  causes, evidence, remedy, touched, cause_gone, release, dispositions, assignee, due_at, comments, containment`;

export function toHold(row: HoldRow): HoldRecord {
  const { id, state, reason, subject, assembly, serial, customer, station, operator } = row;
  const { causes, evidence, remedy, touched, release } = row;
  return {
    id,
    state,
    reason,
    subject,
    unit: assembly === null || serial === null ? null : { assembly, serial },
    customer,
    station,
    operator,
    raisedAt: row.raised_at.toISOString(),
    raisedBy: row.raised_by,
    causes,
    evidence,
    remedy,
    touched,
    causeGone: row.cause_gone,
    release,
    dispositions: row.dispositions,
    assignee: row.assignee,
    dueAt: row.due_at?.toISOString() ?? null,
    comments: row.comments,
    containment: row.containment,
  };
}

/** What a hold is written from, one JSON object a row. */
export function fromHold(hold: HoldRecord): object {
  const { subject, unit } = hold;
  return {
    ...hold,
    stream: streamOfHold(subject),
    device: subject.kind === 'device' ? subject.device : null,
    unit_key: unit === null ? null : unitKey(unit.assembly, unit.serial),
    assembly: unit?.assembly ?? null,
    serial: unit?.serial ?? null,
    raised_at: hold.raisedAt,
    raised_by: hold.raisedBy,
    cause_gone: hold.causeGone,
    due_at: hold.dueAt,
  };
}

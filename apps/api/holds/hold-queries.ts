import { MaxLength } from 'class-validator';
import { HOLD_REASONS, type HoldReason } from '../../../libs/domain/holds/hold-reason.js';
import type { HoldSubject } from '../../../libs/domain/holds/hold-subject.js';
import { type HoldState } from '../../../libs/ledger/holds/hold-record.js';
import { HOLD_STAGES, type HoldStage } from '../../../libs/ledger/holds/hold-stage.js';
import { HoldFilter, type HoldOrder } from '../../../libs/ledger/ports/read-store.js';
import { Field, NameField, OneOfField, Rule, TextField, TimeField } from '../http/fields.js';
import { given } from '../http/given.js';
import { PageQuery } from '../http/paging.js';

const HOLD_STATES = ['open', 'released', 'withdrawn'] as const satisfies readonly HoldState[];
const SUBJECT_KINDS = [
  'unit',
  'site',
  'device',
  'station',
  'operator',
  'profile',
] as const satisfies readonly HoldSubject['kind'][];

/** What holds may be narrowed down by. */
export class HoldsQuery extends PageQuery {
  @OneOfField(HOLD_STATES, { optional: true })
  readonly state?: HoldState;

  @OneOfField(HOLD_STAGES, { optional: true, description: 'How far the work on it has got.' })
  readonly stage?: HoldStage;

  @OneOfField(HOLD_REASONS, { optional: true })
  readonly reason?: HoldReason;

  @OneOfField(SUBJECT_KINDS, { optional: true })
  readonly subjectKind?: HoldSubject['kind'];

  @TextField({ optional: true, max: 200 })
  readonly customer?: string;

  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  // The device that came on a unit without a name has one made of three.
  @Field(
    { optional: true },
    { type: String, maxLength: 200 },
    Rule('isText', (value) => typeof value === 'string' && value !== '', 'must be a device'),
    MaxLength(200),
  )
  readonly device?: string;

  @NameField({ optional: true })
  readonly station?: string;

  @NameField({ optional: true })
  readonly operator?: string;

  @NameField({ optional: true, description: 'Name of the account of who works on it.' })
  readonly assignee?: string;

  @OneOfField(['true'], { optional: true, description: 'Open holds past their due date.' })
  readonly overdue?: 'true';

  @Field(
    { optional: true },
    { type: String, format: 'uuid', description: 'The containment that raised it.' },
    Rule('isUuid', (value) => typeof value === 'string' && UUID.test(value), 'must be the id of a containment'),
  )
  readonly containment?: string;

  @TimeField({ optional: true, description: 'Inclusive.' })
  readonly raisedFrom?: string;

  @TimeField({ optional: true, description: 'Exclusive.' })
  readonly raisedTo?: string;
}

/** The list of holds, in either order. */
export class HoldListQuery extends HoldsQuery {
  @OneOfField(['age', 'graveness'] as const, {
    optional: true,
    description: 'Oldest first (age, unless told), or the gravest first and of equal ones the oldest.',
  })
  readonly order?: HoldOrder;
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

/** Holds are named by UUIDs in lower case; nothing else needs to be looked up. */
export function isHoldId(id: string): boolean {
  return UUID.test(id);
}

/** @param now RFC 3339: what is overdue is so as of then */
export function holdFilter(query: HoldsQuery, now: string): HoldFilter {
  const { state, reason, customer, assembly, serial, device, station, operator, raisedFrom, raisedTo } = query;
  const { stage, subjectKind, assignee, containment } = query;
  return given({
    ...{ state, reason, customer, assembly, serial, device, station, operator, raisedFrom, raisedTo },
    ...{ stage, subjectKind, assignee, containment, dueBefore: query.overdue === undefined ? undefined : now },
  });
}

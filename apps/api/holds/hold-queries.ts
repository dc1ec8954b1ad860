import { HOLD_REASONS, type HoldReason } from '../../../libs/domain/holds/hold-reason.js';
import { type HoldState } from '../../../libs/ledger/holds/hold-record.js';
import { HoldFilter } from '../../../libs/ledger/ports/read-store.js';
import { MaxLength } from 'class-validator';
import { Field, NameField, OneOfField, Rule, TextField, TimeField } from '../http/fields.js';
import { given } from '../http/given.js';
import { PageQuery } from '../http/paging.js';

const HOLD_STATES = ['open', 'released', 'withdrawn'] as const satisfies readonly HoldState[];

/** What holds may be narrowed down by. */
export class HoldsQuery extends PageQuery {
  @OneOfField(HOLD_STATES, { optional: true })
  readonly state?: HoldState;

  @OneOfField(HOLD_REASONS, { optional: true })
  readonly reason?: HoldReason;

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

  @TimeField({ optional: true, description: 'Inclusive.' })
  readonly raisedFrom?: string;

  @TimeField({ optional: true, description: 'Exclusive.' })
  readonly raisedTo?: string;
}

export function holdFilter(query: HoldsQuery): HoldFilter {
  const { state, reason, customer, assembly, serial, device, station, operator, raisedFrom, raisedTo } = query;
  return given({ state, reason, customer, assembly, serial, device, station, operator, raisedFrom, raisedTo });
}

import { Type } from 'class-transformer';
import { CountField, NameField, TextField } from '../http/fields.js';

const LONGEST_LOG = Number.MAX_SAFE_INTEGER;
const MOST_LEAVES = 1000;

export class ConsistencyQuery {
  @Type(() => Number)
  @CountField({ min: 1, max: LONGEST_LOG, description: 'Size of the older checkpoint.' })
  readonly from!: number;

  @Type(() => Number)
  @CountField({ min: 1, max: LONGEST_LOG, description: 'Size of the newer checkpoint.' })
  readonly to!: number;
}

/** An entry by its place: of a unit, or, for the house, of a device. */
export class InclusionQuery {
  @NameField({ optional: true, description: 'With `serial`, of a unit.' })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @TextField({ optional: true, max: 200, description: 'Of a device, in place of a unit; for the house alone.' })
  readonly device?: string;

  @Type(() => Number)
  @CountField({ min: 1, max: 2_147_483_647, description: 'Number of the entry in its ledger.' })
  readonly seq!: number;

  @Type(() => Number)
  @CountField({
    min: 1,
    max: LONGEST_LOG,
    optional: true,
    description: 'Size of the checkpoint that the proof is to end at; the newest unless told.',
  })
  readonly size?: number;
}

export class LeavesQuery {
  @Type(() => Number)
  @CountField({ min: 0, max: LONGEST_LOG, optional: true, description: 'Number of the first leaf; 0 unless told.' })
  readonly from?: number;

  @Type(() => Number)
  @CountField({ min: 1, max: MOST_LEAVES, optional: true, description: 'Leaves at most; 500 unless told.' })
  readonly limit?: number;
}

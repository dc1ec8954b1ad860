import { CLEARED_TYPES, type ClearedType } from '../../../libs/domain/clearance/clearance.js';
import { DRESSING_METHODS, HEATED_PURPOSES } from '../../../libs/domain/events/station-event.js';
import { CLEARANCE_STATES, type ClearanceState } from '../../../libs/ledger/clearances/clearance-record.js';
import {
  CountField,
  Field,
  FlagField,
  ListField,
  NameField,
  NumberField,
  ObjectField,
  OneOfField,
  PositiveField,
  TextField,
} from '../http/fields.js';
import { PageQuery } from '../http/paging.js';

const LONGEST_DEVICE = 194;

class ClearanceProfileBody {
  @NameField()
  readonly name!: string;

  @NameField()
  readonly revision!: string;
}

/** A step as it is planned. What is left out is taken on the safe side (docs/guide/clearances.md). */
export class ClearanceStepBody {
  @OneOfField(CLEARED_TYPES)
  readonly type!: ClearedType;

  @NameField({ optional: true, description: 'Of the step of a site.' })
  readonly refdes?: string;

  @TextField({ optional: true, max: LONGEST_DEVICE })
  readonly device?: string;

  @OneOfField(DRESSING_METHODS, { optional: true, description: 'Of a dressing or deballing.' })
  readonly method?: (typeof DRESSING_METHODS)[number];

  @ObjectField(() => ClearanceProfileBody, { optional: true })
  readonly profile?: ClearanceProfileBody;

  @OneOfField(['scrap', 'keep'] as const, { optional: true, description: 'Of a removed device; keep where left out.' })
  readonly fate?: 'scrap' | 'keep';

  @OneOfField(HEATED_PURPOSES, { optional: true, description: 'Of a heat; touch-up where left out.' })
  readonly purpose?: (typeof HEATED_PURPOSES)[number];

  @OneOfField(['top', 'bottom'] as const, { optional: true })
  readonly side?: 'top' | 'bottom';

  @NameField({ optional: true })
  readonly part?: string;

  @CountField({ optional: true, min: 1, max: 100, description: 'Of a dressing; 1 where left out.' })
  readonly passes?: number;

  @NumberField({ optional: true, min: 0, max: 3_600, description: 'The longest that one pad is to see molten solder.' })
  readonly contactSeconds?: number;

  @NumberField({ optional: true, min: 0, max: 600 })
  readonly solderC?: number;

  @FlagField({ optional: true })
  readonly flowing?: boolean;

  @NameField({ optional: true, description: 'Of a dressing; what lies on the site where left out.' })
  readonly solderAlloy?: string;

  @NameField({ optional: true })
  readonly ballAlloy?: string;

  @PositiveField({ optional: true, max: 10 })
  readonly ballDiameterMm?: number;

  @OneOfField(['flux', 'paste'] as const, { optional: true })
  readonly attach?: 'flux' | 'paste';

  @NameField({ optional: true })
  readonly pasteAlloy?: string;

  @PositiveField({ optional: true, max: 10_000 })
  readonly pasteVolumeMm3?: number;

  // As a method plan gives its steps, so that they can be posted as they are. Nothing is read from these.
  @Ignored()
  readonly skill?: unknown;

  @Ignored()
  readonly spends?: unknown;

  @Ignored()
  readonly spreads?: unknown;

  @Ignored()
  readonly minutes?: unknown;

  @Ignored()
  readonly why?: unknown;
}

function Ignored(): PropertyDecorator {
  return Field({ optional: true }, { type: Object, description: 'As a method plan gives it; not read.' });
}

export class ClearanceBody {
  @NameField({ optional: true, description: 'With serial, for work on a unit.' })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @TextField({ optional: true, max: LONGEST_DEVICE, description: 'For work on a loose device, in place of a unit.' })
  readonly device?: string;

  @NameField()
  readonly operator!: string;

  @NameField({ optional: true, description: 'Where it is to be done. A station may leave out itself.' })
  readonly station?: string;

  @ListField(() => ClearanceStepBody, { min: 1, max: 20 })
  readonly steps!: ClearanceStepBody[];

  @CountField({ optional: true, min: 60, max: 86_400, description: '3600 where left out.' })
  readonly ttlSeconds?: number;
}

/** What clearances may be narrowed down by. */
export class ClearancesQuery extends PageQuery {
  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @TextField({ optional: true, max: LONGEST_DEVICE, description: 'A loose device that it is for.' })
  readonly device?: string;

  @OneOfField(CLEARANCE_STATES, { optional: true })
  readonly state?: ClearanceState;
}

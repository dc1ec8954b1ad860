import { CustomerField } from '../access/customer-field.js';
import { CountField, TextField, TimeField } from '../http/fields.js';
import { PageQuery } from '../http/paging.js';

/** No contract reaches further; it keeps a slip from meaning for ever. A house choice. */
const MOST_YEARS = 100;

/** How long what was done for a customer is kept. */
export class RetentionBody {
  @CountField({
    ...{ min: 1, max: MOST_YEARS, optional: true },
    description: 'Whole years from the last shipment or scrapping of a unit. For ever where left out.',
  })
  readonly keepYears?: number;

  @TextField({ max: 200, description: 'The contract or order that says so.' })
  readonly contract!: string;

  @TextField({ max: 2_000, optional: true })
  readonly note?: string;
}

/** What units that are kept long enough may be narrowed down by. */
export class DueQuery extends PageQuery {
  @CustomerField({ optional: true })
  readonly customer?: string;

  @TimeField({ optional: true, description: 'Units whose time is over by then; by now where left out.' })
  readonly before?: string;
}

import { ObjectField, TextField } from '../http/fields.js';
import { SignatureBody } from '../identity/signature-body.js';

class AnnulledEventBody {
  @TextField({ max: 200, description: '/stations/{station}' })
  readonly source!: string;

  @TextField({ max: 200 })
  readonly id!: string;
}

export class AnnulmentBody {
  @ObjectField(() => AnnulledEventBody, { description: 'The event to strike.' })
  readonly event!: AnnulledEventBody;

  @TextField({ max: 2_000, description: 'What is wrong with it, and how that was found out.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

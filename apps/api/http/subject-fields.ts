import { NameField, TextField } from './fields.js';

/** What names a unit, a site or a device in a body: which of the parts are needed is the kind's to say. */
export class SubjectFields {
  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @NameField({ optional: true })
  readonly refdes?: string;

  @TextField({ optional: true, max: 200 })
  readonly device?: string;
}

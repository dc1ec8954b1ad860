import { TextField } from '../http/fields.js';
import { PasswordField } from './password-field.js';

/** What a person signs with: their password once more, and what they mean by it. */
export class SignatureBody {
  @PasswordField({ description: 'Of the person who has signed in, given again.' })
  readonly password!: string;

  @TextField({ max: 200, description: 'What the signature means, such as "checked and released".' })
  readonly meaning!: string;
}

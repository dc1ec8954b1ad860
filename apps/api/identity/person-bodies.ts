import { ArrayMaxSize, IsArray, IsIn } from 'class-validator';
import { type AccountData, accountFault, PERSON_ROLES } from '../../../libs/ledger/identity/account.js';
import type { Role } from '../../../libs/ledger/identity/principal.js';
import { CustomerField } from '../access/customer-field.js';
import { Field, FlagField, NameField, ObjectField, TextField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';
import { PasswordField } from './password-field.js';
import { SignatureBody } from './signature-body.js';

/** An account as a whole; what is left out is not so. */
export class PersonBody {
  @TextField({ max: 120, description: 'As it is to be read in print, beside signatures.' })
  readonly printedName!: string;

  @Field(
    {},
    { type: String, isArray: true, enum: PERSON_ROLES, minItems: 1, maxItems: PERSON_ROLES.length },
    IsArray(),
    ArrayMaxSize(PERSON_ROLES.length),
    IsIn(PERSON_ROLES, { each: true, message: `must only name ${PERSON_ROLES.join(', ')}` }),
  )
  readonly roles!: Role[];

  @CustomerField({
    optional: true,
    description: 'With role customer, which stands alone: whose assemblies the person may see.',
  })
  readonly customer?: string;

  @FlagField({ optional: true, description: 'Signs in no more. False where left out.' })
  readonly disabled?: boolean;
}

export class NewPersonBody extends PersonBody {
  @NameField({ description: 'To sign in with. It stays.' })
  readonly name!: string;

  @PasswordField({ description: '12 to 256 characters, and not the name.' })
  readonly password!: string;
}

export class NewPasswordBody {
  @PasswordField({ description: 'The new one: 12 to 256 characters, and not the name.' })
  readonly password!: string;

  @PasswordField({ optional: true, description: 'The one until now, where it is your own.' })
  readonly current?: string;
}

export class ErasureBody {
  @TextField({
    max: 2_000,
    description: 'Why, and who asked for it. It stays on record: do not name the person in it.',
  })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

/** @throws ProblemError invalid-body where the roles do not go together */
export function accountIn({ printedName, roles, customer, disabled = false }: PersonBody): AccountData {
  const account: AccountData = { printedName, roles, customer: customer ?? null, disabled };
  const fault = accountFault(account);
  if (fault === undefined) return account;
  const errors = [{ pointer: `/${fault.field}`, detail: fault.detail }];
  throw new ProblemError('invalid-body', `/${fault.field} ${fault.detail}.`, { errors });
}

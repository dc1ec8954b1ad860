import type { LegalScope } from '../../../libs/ledger/retention/legal-hold.js';
import { CustomerField } from '../access/customer-field.js';
import { NameField, ObjectField, OneOfField, TextField } from '../http/fields.js';
import { PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { SignatureBody } from '../identity/signature-body.js';

class UnitBody {
  @NameField()
  readonly assembly!: string;

  @NameField()
  readonly serial!: string;
}

/** One of the three. */
export class LegalScopeBody {
  @CustomerField({ optional: true, description: 'Everything of this customer.' })
  readonly customer?: string;

  @NameField({ optional: true, description: 'Every unit of this assembly.' })
  readonly assembly?: string;

  @ObjectField(() => UnitBody, { optional: true, description: 'This one unit.' })
  readonly unit?: UnitBody;
}

export class LegalHoldBody {
  @ObjectField(() => LegalScopeBody, {
    description: 'What may not be removed: customer, assembly or unit, one of them.',
  })
  readonly scope!: LegalScopeBody;

  @TextField({ max: 200, description: 'How those who asked for it name the matter.' })
  readonly reference!: string;

  @TextField({ max: 2_000, description: 'Why, and who asked for it.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

export class LiftBody {
  @TextField({ max: 2_000, description: 'Why it is over, and who said so.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

export class LegalHoldsQuery extends PageQuery {
  @OneOfField(['in-force', 'lifted'] as const, { optional: true, description: 'Both where left out.' })
  readonly state?: 'in-force' | 'lifted';
}

/** @throws ProblemError invalid-body unless exactly one member is given */
export function scopeIn({ customer, assembly, unit }: LegalScopeBody): LegalScope {
  const given: LegalScope[] = [];
  if (customer !== undefined) given.push({ customer });
  if (assembly !== undefined) given.push({ assembly });
  if (unit !== undefined) given.push({ unit: { assembly: unit.assembly, serial: unit.serial } });
  const [scope] = given;
  if (scope !== undefined && given.length === 1) return scope;
  const errors = [{ pointer: '/scope', detail: 'must have customer, assembly or unit, and one of them alone' }];
  throw new ProblemError('invalid-body', 'Send customer, assembly or unit as scope, and one of them alone.', {
    errors,
  });
}

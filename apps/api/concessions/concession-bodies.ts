import { type LimitKind } from '../../../libs/domain/limits/limit-rule.js';
import { Subject } from '../../../libs/domain/subject/subject.js';
import { CONCEDED_KINDS } from '../../../libs/ledger/concessions/conceded-kinds.js';
import { NameField, NumberField, ObjectField, OneOfField, TextField } from '../http/fields.js';
import { PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { SubjectFields } from '../http/subject-fields.js';
import { SignatureBody } from '../identity/signature-body.js';

/** No budget or figure of a limit comes near it. */
const LARGEST_FIGURE = 10_000;

class SubjectBody extends SubjectFields {
  @OneOfField(['unit', 'site', 'device'] as const)
  readonly kind!: Subject['kind'];
}

export class ConcessionBody {
  @ObjectField(() => SubjectBody, { description: 'The one unit, site or device that it is for.' })
  readonly subject!: SubjectBody;

  @OneOfField(CONCEDED_KINDS, { description: 'Which limit is conceded.' })
  readonly limit!: LimitKind;

  @NumberField({ min: 0, max: LARGEST_FIGURE, description: 'In place of what the limit allows, in its unit.' })
  readonly allowed!: number;

  @TextField({ max: 200, description: 'How the customer names their approval.' })
  readonly customerReference!: string;

  @TextField({ max: 2_000, description: 'Why it is asked for and granted.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

export class WithdrawConcessionBody {
  @TextField({ max: 2_000, description: 'Why it ends.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

/** What concessions may be narrowed down by. */
export class ConcessionsQuery extends PageQuery {
  @NameField({ optional: true, description: 'With serial: on the unit and its sites.' })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @NameField({ optional: true })
  readonly refdes?: string;

  @TextField({ optional: true, max: 200 })
  readonly device?: string;

  @OneOfField(CONCEDED_KINDS, { optional: true, description: 'Which limit is conceded.' })
  readonly kind?: LimitKind;
}

/** @throws ProblemError invalid-body where the parts are not those of the kind */
export function concededSubject({ kind, assembly, serial, refdes, device }: SubjectBody): Subject {
  const onUnit = assembly !== undefined && serial !== undefined && device === undefined;
  if (kind === 'unit' && onUnit && refdes === undefined) return { kind, assembly, serial };
  if (kind === 'site' && onUnit && refdes !== undefined) return { kind, assembly, serial, refdes };
  const alone = assembly === undefined && serial === undefined && refdes === undefined;
  if (kind === 'device' && device !== undefined && alone) return { kind, device };
  throw new ProblemError('invalid-body', 'Send assembly and serial, with refdes for a site, or device alone.', {
    errors: [{ pointer: '/subject', detail: `must name one ${kind}` }],
  });
}

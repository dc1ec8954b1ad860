import { ArrayMaxSize, ArrayUnique, IsArray, IsString } from 'class-validator';
import { type Decision, DECISIONS } from '../../../libs/ledger/holds/hold-record.js';
import { Field, ObjectField, OneOfField, Rule, TextField } from '../http/fields.js';
import { SignatureBody } from '../identity/signature-body.js';
import { NameOrNullField, TimeOrNullField } from './nullable-fields.js';

export class DisposeHoldBody {
  @OneOfField(DECISIONS)
  readonly decision!: Decision;

  @TextField({ max: 2_000, description: 'What was found, and what is to be done.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

export class ReleaseHoldBody {
  @TextField({ max: 2_000, description: 'What was done and found.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

export class CommentBody {
  @TextField({ max: 2_000, description: 'For the house; no customer sees it.' })
  readonly text!: string;
}

export class AssignmentBody {
  @NameOrNullField({ description: 'Name of the account of who works on it; null for nobody.' })
  readonly assignee!: string | null;

  @TimeOrNullField({ description: 'When it is to be closed; null for no date.' })
  readonly dueAt!: string | null;
}

const MOST_AT_ONCE = 200;

export class AssignmentsBody extends AssignmentBody {
  @Field(
    {},
    {
      type: [String],
      minItems: 1,
      maxItems: MOST_AT_ONCE,
      uniqueItems: true,
      description: 'Ids of open holds: all of them are assigned, or none.',
    },
    IsArray(),
    Rule('isNotEmpty', (value) => Array.isArray(value) && value.length > 0, 'must name a hold at least'),
    ArrayMaxSize(MOST_AT_ONCE),
    ArrayUnique(),
    IsString({ each: true }),
  )
  readonly holds!: string[];
}

import { Subject } from '../../../libs/domain/subject/subject.js';
import { NameField, ObjectField, OneOfField, TextField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';

class SubjectBody {
  @OneOfField(['unit', 'site', 'device'] as const)
  readonly kind!: Subject['kind'];

  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @NameField({ optional: true })
  readonly refdes?: string;

  @TextField({ optional: true, max: 200 })
  readonly device?: string;
}

/** A hold by hand: on a unit, on a site of it, or on a device, told as a subject or by its parts. */
export class RaiseHoldBody {
  @ObjectField(() => SubjectBody, { optional: true, description: 'In place of the parts below.' })
  readonly subject?: SubjectBody;

  @NameField({ optional: true, description: 'With serial, where the hold is on a unit or a site.' })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @NameField({ optional: true, description: 'A site of the unit; the whole unit where left out.' })
  readonly refdes?: string;

  @TextField({ optional: true, max: 200, description: 'In place of assembly and serial.' })
  readonly device?: string;

  @TextField({ max: 2_000, description: 'Why: what the next person needs to know.' })
  readonly note!: string;
}

export class ReleaseHoldBody {
  @TextField({ max: 2_000, description: 'What was found and decided.' })
  readonly note!: string;
}

/** @throws ProblemError invalid-body where the body names no subject, or two */
export function heldSubject(body: RaiseHoldBody): Subject {
  const { subject } = body;
  const named = subjectOf(subject ?? body);
  const twice = subject !== undefined && subjectOf(body) !== undefined;
  if (named !== undefined && !twice && (subject === undefined || named.kind === subject.kind)) return named;
  throw new ProblemError('invalid-body', 'Send assembly and serial, with refdes for a site, or device alone.', {
    errors: [{ pointer: '', detail: 'must name either assembly and serial, or a device' }],
  });
}

function subjectOf({ assembly, serial, refdes, device }: Omit<SubjectBody, 'kind'>): Subject | undefined {
  if (device !== undefined && assembly === undefined && serial === undefined && refdes === undefined) {
    return { kind: 'device', device };
  }
  if (device === undefined && assembly !== undefined && serial !== undefined) {
    return refdes === undefined ? { kind: 'unit', assembly, serial } : { kind: 'site', assembly, serial, refdes };
  }
  return undefined;
}

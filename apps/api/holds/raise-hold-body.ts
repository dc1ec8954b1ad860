import { HoldSubject } from '../../../libs/domain/holds/hold-subject.js';
import { given } from '../http/given.js';
import { NameField, ObjectField, OneOfField, TextField, TimeField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';
import { SubjectFields } from '../http/subject-fields.js';

class ProfileRevisionBody {
  @NameField()
  readonly name!: string;

  @NameField()
  readonly revision!: string;
}

const SUBJECT_KINDS = ['unit', 'site', 'device', 'station', 'operator', 'profile'] as const;

class HoldSubjectBody extends SubjectFields {
  @OneOfField(SUBJECT_KINDS)
  readonly kind!: HoldSubject['kind'];

  @NameField({ optional: true })
  readonly station?: string;

  @NameField({ optional: true })
  readonly operator?: string;

  @NameField({ optional: true, description: 'Of a profile.' })
  readonly name?: string;

  @NameField({ optional: true, description: 'Of a profile.' })
  readonly revision?: string;
}

/** A hold by hand: on what is worked on, or on who or what works on it, told as a subject or by its parts. */
export class RaiseHoldBody {
  @ObjectField(() => HoldSubjectBody, { optional: true, description: 'In place of the parts below.' })
  readonly subject?: HoldSubjectBody;

  @NameField({ optional: true, description: 'With serial, where the hold is on a unit or a site.' })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @NameField({ optional: true, description: 'A site of the unit; the whole unit where left out.' })
  readonly refdes?: string;

  @TextField({ optional: true, max: 200, description: 'In place of assembly and serial.' })
  readonly device?: string;

  @NameField({ optional: true, description: 'In place of assembly and serial.' })
  readonly station?: string;

  @NameField({ optional: true, description: 'In place of assembly and serial.' })
  readonly operator?: string;

  @ObjectField(() => ProfileRevisionBody, { optional: true, description: 'In place of assembly and serial.' })
  readonly profile?: ProfileRevisionBody;

  @TextField({ max: 2_000, description: 'Why: what the next person needs to know.' })
  readonly note!: string;

  @TimeField({ optional: true, description: 'When it is to be closed.' })
  readonly dueAt?: string;

  @NameField({ optional: true, description: 'Name of the account of who works on it.' })
  readonly assignee?: string;
}

type SubjectParts = { readonly [M in keyof Omit<HoldSubjectBody, 'kind'>]?: string | undefined };

/** @throws ProblemError invalid-body where the body names no subject, or two */
export function heldSubject(body: RaiseHoldBody): HoldSubject {
  const { subject, assembly, serial, refdes, device, station, operator, profile } = body;
  const { name, revision } = profile ?? {};
  const own = partsOf({ assembly, serial, refdes, device, station, operator, name, revision });
  const named = subjectOf(subject === undefined ? own : partsOf(subject));
  const twice = subject !== undefined && Object.keys(own).length > 0;
  if (named !== undefined && !twice && (subject === undefined || named.kind === subject.kind)) return named;
  const detail =
    'Send one subject: assembly and serial, with refdes for a site, or a device, station, operator or profile alone.';
  throw new ProblemError('invalid-body', detail, {
    errors: [{ pointer: '', detail: 'must name one unit, site, device, station, operator or profile revision' }],
  });
}

/** The parts of a subject that are given, without anything else. */
function partsOf({ assembly, serial, refdes, device, station, operator, name, revision }: SubjectParts): SubjectParts {
  return given({ assembly, serial, refdes, device, station, operator, name, revision });
}

/** The subject that has exactly these parts. */
function subjectOf(parts: SubjectParts): HoldSubject | undefined {
  const { assembly, serial, refdes, device, station, operator, name, revision } = parts;
  const given = Object.keys(parts).length;
  if (given === 1 && device !== undefined) return { kind: 'device', device };
  if (given === 1 && station !== undefined) return { kind: 'station', station };
  if (given === 1 && operator !== undefined) return { kind: 'operator', operator };
  if (given === 2 && name !== undefined && revision !== undefined) return { kind: 'profile', name, revision };
  if (assembly === undefined || serial === undefined) return undefined;
  if (given === 2) return { kind: 'unit', assembly, serial };
  return given === 3 && refdes !== undefined ? { kind: 'site', assembly, serial, refdes } : undefined;
}

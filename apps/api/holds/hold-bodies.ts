import { Subject } from '../../../libs/domain/subject/subject.js';
import { NameField, TextField } from '../http/fields.js';
import { ProblemError } from '../http/problem.js';

/** A hold by hand: on a unit, on a site of it, or on a device. */
export class RaiseHoldBody {
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
export function heldSubject({ assembly, serial, refdes, device }: RaiseHoldBody): Subject {
  if (device !== undefined && assembly === undefined && serial === undefined && refdes === undefined) {
    return { kind: 'device', device };
  }
  if (device === undefined && assembly !== undefined && serial !== undefined) {
    return refdes === undefined ? { kind: 'unit', assembly, serial } : { kind: 'site', assembly, serial, refdes };
  }
  throw new ProblemError('invalid-body', 'Send assembly and serial, with refdes for a site, or device alone.', {
    errors: [{ pointer: '', detail: 'must name either assembly and serial, or a device' }],
  });
}

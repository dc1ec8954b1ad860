import { SuspectCause, Suspicion, microTime } from '../../../libs/ledger/containment/suspect-cause.js';
import { FlagField, NameField, ObjectField, TextField, TimeField } from '../http/fields.js';
import { given } from '../http/given.js';
import { ProblemError } from '../http/problem.js';
import { SignatureBody } from '../identity/signature-body.js';

class SuspectProfileBody {
  @NameField()
  readonly name!: string;

  @NameField({ optional: true, description: 'Every revision where it is left out.' })
  readonly revision?: string;
}

export class SuspectCauseBody {
  @NameField({ optional: true })
  readonly station?: string;

  @NameField({ optional: true })
  readonly operator?: string;

  @ObjectField(() => SuspectProfileBody, { optional: true })
  readonly profile?: SuspectProfileBody;

  @TextField({ optional: true, max: 200 })
  readonly device?: string;

  @NameField({ optional: true })
  readonly part?: string;

  @TextField({ optional: true, max: 200, description: 'Of flux, solder, paste, balls, or of devices.' })
  readonly lot?: string;

  @TextField({ optional: true, max: 200 })
  readonly solderAlloy?: string;

  @NameField({ optional: true, description: 'Name of a limit in the setup.' })
  readonly limit?: string;

  @TimeField({ description: 'When it began to be suspect; inclusive.' })
  readonly from!: string;

  @TimeField({ description: 'When it ceased to be; exclusive.' })
  readonly to!: string;
}

export class ContainmentBody {
  @ObjectField(() => SuspectCauseBody, { description: 'Exactly one thing that is suspected, and when.' })
  readonly cause!: SuspectCauseBody;

  @FlagField({ optional: true, description: 'Only look: nothing is held, and nothing is kept of it.' })
  readonly dryRun?: boolean;

  @FlagField({
    optional: true,
    description: 'Hold the station, operator or profile itself too, so that it does no further work.',
  })
  readonly holdCause?: boolean;

  @TextField({ optional: true, max: 2_000, description: 'What is suspected, and why. Needed unless dryRun.' })
  readonly note?: string;

  @ObjectField(() => SignatureBody, { optional: true, description: 'Needed unless dryRun.' })
  readonly signature?: SignatureBody;
}

export class RepeatContainmentBody {
  @TextField({ max: 2_000, description: 'Why it is repeated.' })
  readonly note!: string;

  @ObjectField(() => SignatureBody)
  readonly signature!: SignatureBody;
}

/** @throws ProblemError invalid-body where the body names no cause or several, or its interval is none */
export function suspicionIn({ cause, holdCause = false }: ContainmentBody): Suspicion {
  const [first, ...others] = causesIn(cause);
  if (first === undefined || others.length > 0) {
    throw refused(
      '/cause',
      'must name exactly one of station, operator, profile, device, part, lot, solderAlloy and limit',
    );
  }
  const suspicion = { cause: first, from: microTime(cause.from), to: microTime(cause.to) };
  if (suspicion.from >= suspicion.to) throw refused('/cause/to', 'must be later than from');
  if (holdCause && !HOLDABLE.has(first.kind)) {
    throw refused('/holdCause', 'is for a station, an operator or a profile; hold anything else by its units');
  }
  return suspicion;
}

const HOLDABLE: ReadonlySet<SuspectCause['kind']> = new Set(['station', 'operator', 'profile']);

function causesIn(body: SuspectCauseBody): readonly SuspectCause[] {
  const { station, operator, profile, device, part, lot, solderAlloy, limit } = body;
  return [
    station === undefined ? [] : [{ kind: 'station', station } as const],
    operator === undefined ? [] : [{ kind: 'operator', operator } as const],
    profile === undefined
      ? []
      : [{ kind: 'profile', name: profile.name, ...given({ revision: profile.revision }) } as const],
    device === undefined ? [] : [{ kind: 'device', device } as const],
    part === undefined ? [] : [{ kind: 'part', part } as const],
    lot === undefined ? [] : [{ kind: 'lot', lot } as const],
    solderAlloy === undefined ? [] : [{ kind: 'solder-alloy', solderAlloy } as const],
    limit === undefined ? [] : [{ kind: 'limit', limit } as const],
  ].flat();
}

function refused(pointer: string, detail: string): ProblemError {
  return new ProblemError('invalid-body', `${pointer.slice(1).replaceAll('/', '.')} ${detail}.`, {
    errors: [{ pointer, detail }],
  });
}

/** A cause as bodies have it. */
export function causeBody({ cause, from, to }: Suspicion): object {
  const { kind, ...named } = cause;
  if (kind === 'profile') return { profile: named, from, to };
  return { ...named, from, to };
}

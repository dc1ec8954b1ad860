import { PlannedStep } from '../../../libs/domain/clearance/clearance.js';
import { deviceKey, StreamKey, unitKey } from '../../../libs/domain/subject/subject.js';
import { ClearanceWish } from '../../../libs/ledger/clearances/grant-clearance.js';
import { hasRole, Principal } from '../../../libs/ledger/identity/principal.js';
import { given } from '../http/given.js';
import { FieldProblem, ProblemError } from '../http/problem.js';
import { ClearanceBody, ClearanceStepBody } from './clearance-bodies.js';

const DEFAULT_TTL_S = 3600;

/**
 * What a body asks for, by whom.
 * @throws ProblemError invalid-body where its parts do not fit together; not-allowed where a station speaks for another
 */
export function readWish(body: ClearanceBody, caller: Principal): Omit<ClearanceWish, 'request'> {
  const { operator, ttlSeconds = DEFAULT_TTL_S } = body;
  const isStation = hasRole(caller, 'station');
  const station = body.station ?? (isStation ? caller.name : undefined);
  if (isStation && station !== caller.name) {
    throw new ProblemError('not-allowed', `Station ${caller.name} can ask for itself only: leave station out.`);
  }
  const problems: FieldProblem[] = [];
  if (station === undefined) problems.push({ pointer: '/station', detail: 'is missing' });
  const subject = subjectOf(body);
  if (subject === undefined)
    problems.push({ pointer: '', detail: 'must name either assembly and serial, or a device' });
  body.steps.forEach((step, place) => {
    problems.push(...stepProblems(step, `/steps/${String(place)}`, body.device));
  });
  const [first] = problems;
  if (first !== undefined || station === undefined || subject === undefined) {
    throw new ProblemError('invalid-body', `${first?.pointer ?? ''} ${first?.detail ?? ''}.`.trim(), {
      errors: problems,
    });
  }
  const actor = { kind: isStation ? ('station' as const) : ('person' as const), name: caller.name };
  return { subject, station, operator, ttlSeconds, actor, steps: body.steps.map(plannedStep) };
}

function subjectOf({ assembly, serial, device }: ClearanceBody): StreamKey | undefined {
  if (device !== undefined) return assembly === undefined && serial === undefined ? deviceKey(device) : undefined;
  return assembly !== undefined && serial !== undefined ? unitKey(assembly, serial) : undefined;
}

function stepProblems(step: ClearanceStepBody, pointer: string, device: string | undefined): FieldProblem[] {
  const { type } = step;
  const onDevice = type === 'heatbook.device.deballed.v1' || type === 'heatbook.device.reballed.v1';
  const found: FieldProblem[] = [];
  if (device !== undefined && !onDevice) {
    found.push({ pointer: `${pointer}/type`, detail: `is done on a unit, not on loose device ${device}` });
  }
  if (device !== undefined && step.device !== undefined && step.device !== device) {
    found.push({ pointer: `${pointer}/device`, detail: `must be ${device}, or left out` });
  }
  if (!onDevice && type !== 'heatbook.unit.reflowed.v1' && step.refdes === undefined) {
    found.push({ pointer: `${pointer}/refdes`, detail: 'is missing' });
  }
  const hasMethod = type === 'heatbook.site.dressed.v1' || type === 'heatbook.device.deballed.v1';
  if (hasMethod && step.method === undefined) found.push({ pointer: `${pointer}/method`, detail: 'is missing' });
  return found;
}

function plannedStep(body: ClearanceStepBody): PlannedStep {
  const { type, refdes, device, method, fate, purpose, side, part, passes, contactSeconds, solderC, flowing } = body;
  const { solderAlloy, ballAlloy, ballDiameterMm, attach, pasteAlloy, pasteVolumeMm3 } = body;
  const profile = body.profile && { name: body.profile.name, revision: body.profile.revision };
  return {
    type,
    ...given({ refdes, device, method, profile, fate, purpose, side, part, passes, contactSeconds, solderC, flowing }),
    ...given({ solderAlloy, ballAlloy, ballDiameterMm, attach, pasteAlloy, pasteVolumeMm3 }),
  };
}

import { ValidationArguments, ValidatorConstraint, ValidatorConstraintInterface } from 'class-validator';

const OF_A_DEVICE = /^devices\/[A-Za-z0-9._:-]{1,64}$/;
const OF_A_UNIT = /^(?!devices\/|stations\/)[A-Za-z0-9._:-]{1,64}\/[A-Za-z0-9._:-]{1,64}$/;
const DEVICE_EVENTS = new Set<unknown>(['heatbook.device.received.v1', 'heatbook.device.reballed.v1']);
const EITHER = 'heatbook.inspection.recorded.v1';

/** A subject has the form that events of its type are about. */
@ValidatorConstraint()
export class SubjectSuitsType implements ValidatorConstraintInterface {
  validate(subject: unknown, { object }: ValidationArguments): boolean {
    if (typeof subject !== 'string') return false;
    const type: unknown = 'type' in object ? object.type : undefined;
    if (type === EITHER) return OF_A_DEVICE.test(subject) || OF_A_UNIT.test(subject);
    return (DEVICE_EVENTS.has(type) ? OF_A_DEVICE : OF_A_UNIT).test(subject);
  }

  defaultMessage(): string {
    return 'subject must be {assembly}/{serial}, or devices/{device} for what is told of a loose device';
  }
}

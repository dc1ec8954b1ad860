import { isName, NAME_PATTERN } from '../../../libs/domain/subject/names.js';
import { isEventTime } from '../../../libs/ledger/intake/event-time.js';
import { Field, Rule } from '../http/fields.js';

/** A name, or null to say that there is none. */
export function NameOrNullField({ description }: { description: string }): PropertyDecorator {
  const holds = (value: unknown): boolean => value === null || (typeof value === 'string' && isName(value));
  const property = { description, type: String, nullable: true, pattern: NAME_PATTERN };
  return Field({}, property, Rule('isNameOrNull', holds, 'must be null or 1 to 64 characters of A-Z a-z 0-9 . _ : -'));
}

/** A time, or null to say that there is none. */
export function TimeOrNullField({ description }: { description: string }): PropertyDecorator {
  const holds = (value: unknown): boolean => value === null || (typeof value === 'string' && isEventTime(value));
  const property = { description, type: String, nullable: true, format: 'date-time' };
  const wrong = 'must be null or an RFC 3339 time with offset, such as 2030-01-31T08:00:00Z';
  return Field({}, property, Rule('isTimeOrNull', holds, wrong));
}

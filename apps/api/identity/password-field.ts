import { IsString, MaxLength, MinLength } from 'class-validator';
import { Field } from '../http/fields.js';

/** Bounded well above the longest password, which is counted in characters. */
const MOST = 1_024;

/** A password as it is typed, spaces and all. What a new one must be like is not asked of one that is only checked. */
export function PasswordField(options: { optional?: boolean; description?: string } = {}): PropertyDecorator {
  const { description } = options;
  const property = { type: String, format: 'password', minLength: 1, maxLength: MOST };
  return Field(
    options,
    { ...property, ...(description !== undefined && { description }) },
    IsString(),
    MinLength(1),
    MaxLength(MOST),
  );
}

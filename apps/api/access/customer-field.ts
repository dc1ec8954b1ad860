import { applyDecorators } from '@nestjs/common';
import { Matches } from 'class-validator';
import { FieldOptions, TextField } from '../http/fields.js';

/** The name of a customer. `*` is none: to the database it means the house itself. */
export function CustomerField(options: FieldOptions = {}): PropertyDecorator {
  return applyDecorators(
    TextField({ ...options, max: 200 }),
    Matches(/^(?!\*$)/, { message: 'must be the name of a customer, and * cannot be one' }),
  );
}

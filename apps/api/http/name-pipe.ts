import { ArgumentMetadata, PipeTransform } from '@nestjs/common';
import { isName } from '../../../libs/domain/subject/names.js';
import { ProblemError } from './problem.js';

/** A name in the address under which something is written. A read of a name that cannot exist simply finds nothing. */
export class NamePipe implements PipeTransform<string, string> {
  transform(value: string, { data }: ArgumentMetadata): string {
    if (isName(value)) return value;
    throw new ProblemError('invalid-name', `Name ${data ?? 'it'} with 1 to 64 characters of A-Z a-z 0-9 . _ : -.`, {
      errors: [{ pointer: `/${data ?? ''}`, detail: 'is no usable name' }],
    });
  }
}

import { HttpStatus, ValidationPipeOptions } from '@nestjs/common';

/** What is not declared is dropped; nothing is converted in silence. */
export const VALIDATION: ValidationPipeOptions = {
  transform: true,
  whitelist: true,
  errorHttpStatusCode: HttpStatus.UNPROCESSABLE_ENTITY,
};

import { applyDecorators, Type } from '@nestjs/common';
import { Answers, classRef, Models, pageOf, Problems } from '../openapi/describe.js';
import { ref, Schema } from '../openapi/schema-parts.js';

/** @param more what answers say besides. */
function recordOf(body: Type, more: readonly Schema[]): Schema {
  return { allOf: [ref('SetupRevision'), classRef(body), ...more] };
}

export function DescribePut(body: Type, ...more: Schema[]): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Revised, or unchanged where the body says nothing new.', recordOf(body, more)),
    Answers(201, 'Created.', recordOf(body, more)),
    Problems('unreadable-json', 'invalid-body', 'invalid-name', 'too-large', 'unknown-media-type'),
  );
}

export function DescribeRecord(body: Type, ...more: Schema[]): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'The newest revision.', recordOf(body, more)),
    Problems('not-found'),
  );
}

export function DescribeRecords(body: Type, ...more: Schema[]): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Newest revisions by name.', pageOf(recordOf(body, more))),
    Problems('invalid-query'),
  );
}

export function DescribeHistory(body: Type, ...more: Schema[]): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Every revision, newest first.', pageOf(recordOf(body, more))),
    Problems('not-found', 'invalid-query'),
  );
}

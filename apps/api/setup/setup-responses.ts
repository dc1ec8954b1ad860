import { applyDecorators, Type } from '@nestjs/common';
import { Answers, classRef, Models, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

function recordOf(body: Type): Record<string, unknown> {
  return { allOf: [ref('SetupRevision'), classRef(body)] };
}

export function DescribePut(body: Type): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Revised, or unchanged where the body says nothing new.', recordOf(body)),
    Answers(201, 'Created.', recordOf(body)),
    Problems('unreadable-json', 'invalid-body', 'invalid-name', 'too-large', 'unknown-media-type'),
  );
}

export function DescribeRecord(body: Type): MethodDecorator {
  return applyDecorators(Models(body), Answers(200, 'The newest revision.', recordOf(body)), Problems('not-found'));
}

export function DescribeRecords(body: Type): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Newest revisions by name.', pageOf(recordOf(body))),
    Problems('invalid-query'),
  );
}

export function DescribeHistory(body: Type): MethodDecorator {
  return applyDecorators(
    Models(body),
    Answers(200, 'Every revision, newest first.', pageOf(recordOf(body))),
    Problems('not-found', 'invalid-query'),
  );
}

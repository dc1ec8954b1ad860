import { applyDecorators, Type } from '@nestjs/common';
import { ApiExtraModels, ApiResponse, getSchemaPath } from '@nestjs/swagger';
import { PROBLEMS, ProblemCode } from '../http/problem-table.js';
import { list, record, ref, Schema, text, orNull } from './schema-parts.js';

/** A page of a list of such items. */
export function pageOf(items: Schema): Schema {
  return record({ items: list(items), nextCursor: orNull(text) });
}

export function classRef(body: Type): { $ref: string } {
  return { $ref: getSchemaPath(body) };
}

/** Answers with JSON of this schema. */
export function Answers(status: number, description: string, schema: Schema): MethodDecorator {
  return ApiResponse({ status, description, content: { 'application/json': { schema } } });
}

/** The problems of its own that a route answers with, grouped by status. */
export function Problems(...codes: ProblemCode[]): MethodDecorator {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of codes) {
    const { status } = PROBLEMS[code];
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  const responses = [...byStatus].map(([status, group]) => {
    const description = group.map((code) => `${code}: ${PROBLEMS[code].title}`).join('; ');
    return ApiResponse({
      status,
      description,
      content: { 'application/problem+json': { schema: ref('Problem') } },
    });
  });
  return applyDecorators(...responses);
}

export function Models(...models: Type[]): MethodDecorator {
  return ApiExtraModels(...models);
}

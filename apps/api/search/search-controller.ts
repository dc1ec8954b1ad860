import { Controller, Get, Inject, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { Type } from 'class-transformer';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { Found, searchBook } from '../../../libs/ledger/search/search-book.js';
import { isCustomer, readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { CountField, TextField } from '../http/fields.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

const MOST_ITEMS = 20;

export class SearchQuery {
  @TextField({
    max: 140,
    description:
      'A name or its beginning: of a serial, `assembly/serial`, `assembly serial`, a device, …; or the id of a hold.',
  })
  readonly q!: string;

  @Type(() => Number)
  @CountField({ min: 1, max: MOST_ITEMS, optional: true, description: `At most so many, ${MOST_ITEMS} unless told.` })
  readonly limit?: number;
}

/** Finds what a person typed, or a barcode reader typed for them. */
@ApiTags('search')
@Roles(...PEOPLE)
@Controller('v1/search')
export class SearchController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'What the caller may see of what is named so or begins so, exact names first.', ref('Found'))
  @Problems('invalid-query')
  async search(@Query() { q, limit = MOST_ITEMS }: SearchQuery, @Caller() caller: Principal): Promise<Found> {
    const { setup } = this.deps;
    const reads = readsFor(this.deps, caller);
    if (isCustomer(caller)) return searchBook({ reads, setup: null }, q.trim(), limit);
    await setup.catchUp();
    return searchBook({ reads, setup }, q.trim(), limit);
  }
}

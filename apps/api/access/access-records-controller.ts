import { Controller, Get, Inject, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { ACCESS_KINDS, type AccessKind, type AccessRecord } from '../../../libs/ledger/ports/access-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { NameField, OneOfField, TimeField } from '../http/fields.js';
import { given } from '../http/given.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

export class AccessRecordsQuery extends PageQuery {
  @TimeField({ optional: true, description: 'Inclusive.' })
  readonly from?: string;

  @TimeField({ optional: true, description: 'Exclusive.' })
  readonly to?: string;

  @OneOfField(ACCESS_KINDS, { optional: true })
  readonly kind?: AccessKind;

  @NameField({ optional: true, description: 'Of a station or an account.' })
  readonly caller?: string;
}

@ApiTags('access')
@Roles('admin', 'auditor')
@Controller('v1/access-records')
export class AccessRecordsController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Who was refused, who came in, and who changed the setup; newest first.', pageOf(ref('AccessRecord')))
  @Problems('invalid-query')
  listAccessRecords(@Query() query: AccessRecordsQuery): Promise<ListBody<AccessRecord>> {
    const { from, to, kind, caller } = query;
    const filter = given({ from, to, kind, caller });
    return listBody(
      query,
      (page) => this.deps.access.list(filter, page),
      (record) => record,
    );
  }
}

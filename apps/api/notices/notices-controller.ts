import { Body, Controller, Get, HttpCode, Inject, Param, Post, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { given } from '../http/given.js';
import { type ListBody, listBody } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { AcknowledgeNoticeBody, NoticesQuery } from './notice-bodies.js';
import { type NoticeView, noticeView } from './notice-view.js';

/** Warnings of what runs out: they stop nothing, and are taken note of rather than worked. */
@ApiTags('notices')
@Roles(...HOUSE)
@Controller('v1/notices')
export class NoticesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Notices, by the instant that they are about, oldest first.', pageOf(ref('Notice')))
  @Problems('invalid-query')
  listNotices(@Query() query: NoticesQuery): Promise<ListBody<NoticeView>> {
    const { kind, level, state } = query;
    return listBody(query, (page) => this.deps.notices.list(given({ kind, level, state }), page), noticeView);
  }

  @Post(':id/acknowledgement')
  @Roles('quality', 'admin')
  @HttpCode(200)
  @Answers(200, 'The notice, acknowledged.', ref('Notice'))
  @Problems('unreadable-json', 'not-found', 'notice-not-open', 'invalid-body')
  async acknowledgeNotice(
    @Param('id') id: string,
    @Body() { note }: AcknowledgeNoticeBody,
    @Caller() caller: Principal,
  ): Promise<NoticeView> {
    const acknowledgement = { by: caller.name, at: this.deps.clock.now(), note: note ?? null };
    const notice = await this.deps.notices.acknowledge(id, acknowledgement);
    if (notice === 'not-found') {
      throw new ProblemError('not-found', `There is no notice ${id}; GET /v1/notices lists them.`);
    }
    if (notice === 'not-open') {
      throw new ProblemError(
        'notice-not-open',
        `Notice ${id} is acknowledged or settled already; GET /v1/notices shows by whom or when. Nothing is left to do.`,
      );
    }
    return noticeView(notice);
  }
}

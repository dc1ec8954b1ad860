import {
  NOTICE_KINDS,
  NOTICE_LEVELS,
  NOTICE_STATES,
  type NoticeKind,
  type NoticeLevel,
  type NoticeState,
} from '../../../libs/ledger/notices/notice.js';
import { OneOfField, TextField } from '../http/fields.js';
import { PageQuery } from '../http/paging.js';

/** What notices may be narrowed down by. */
export class NoticesQuery extends PageQuery {
  @OneOfField(NOTICE_KINDS, { optional: true })
  readonly kind?: NoticeKind;

  @OneOfField(NOTICE_LEVELS, { optional: true, description: '`ahead`: to come; `due`: has come.' })
  readonly level?: NoticeLevel;

  @OneOfField(NOTICE_STATES, { optional: true })
  readonly state?: NoticeState;
}

export class AcknowledgeNoticeBody {
  @TextField({ optional: true, max: 2_000, description: 'What is being done about it.' })
  readonly note?: string;
}

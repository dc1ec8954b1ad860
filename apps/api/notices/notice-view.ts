import { Notice, NoticeState, noticeState } from '../../../libs/ledger/notices/notice.js';

/** A notice as routes answer it. */
export interface NoticeView extends Pick<
  Notice,
  'id' | 'kind' | 'level' | 'subject' | 'dueAt' | 'raisedAt' | 'detail' | 'remedy'
> {
  readonly state: NoticeState;
  /** Of a qualification. */
  readonly skill?: string;
  /** Id of the hold that is overdue. */
  readonly hold?: string;
  readonly acknowledgedBy?: string;
  readonly acknowledgedAt?: string;
  readonly note?: string;
  readonly settledAt?: string;
}

export function noticeView(notice: Notice): NoticeView {
  const { id, kind, level, subject, item, dueAt, raisedAt, detail, remedy, acknowledgement, settledAt } = notice;
  return {
    ...{ id, kind, level, state: noticeState(notice), subject },
    ...(kind === 'qualification' && { skill: item }),
    ...(kind === 'hold-overdue' && { hold: item }),
    ...{ dueAt, raisedAt, detail, remedy },
    ...(acknowledgement !== null && { acknowledgedBy: acknowledgement.by, acknowledgedAt: acknowledgement.at }),
    ...(acknowledgement?.note != null && { note: acknowledgement.note }),
    ...(settledAt !== null && { settledAt }),
  };
}

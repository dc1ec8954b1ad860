import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { LOG_ENTRY_TYPES } from '../../../libs/ledger/log/book-entries.js';
import { BOOK_STREAM, type CensusData, type CensusGroup } from '../../../libs/ledger/log/log-evidence.js';
import type { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { ledgerPage, LedgerQuery } from '../units/ledger-query.js';

/** A census as routes answer it. */
interface CensusAnswer extends CensusData {
  /** The entry of the book's own ledger that tells of it. */
  readonly seq: number;
  readonly hash: string;
  readonly recordedAt: string;
}

const DAYS = 500;

/** Who was counted, day by day. Groups name every customer's assemblies: for the house. */
@ApiTags('log')
@Roles(...HOUSE)
@Controller('v1/log/censuses')
export class CensusesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Censuses, newest first.', pageOf(ref('Census')))
  @Problems('invalid-query')
  async listCensuses(@Query() query: PageQuery): Promise<ListBody<CensusAnswer>> {
    const asked = Object.assign(new LedgerQuery(), query, { type: LOG_ENTRY_TYPES.censusTaken });
    const page = await ledgerPage(this.deps.reads, BOOK_STREAM, asked);
    return { ...page, items: page.items.map(answerOf) };
  }

  @Get(':day')
  @Answers(200, 'The census of a day, with its groups.', ref('CensusWithGroups'))
  @Problems('not-found')
  async getCensus(@Param('day') day: string): Promise<CensusAnswer & { readonly groupList: readonly CensusGroup[] }> {
    const census = await this.find(day);
    if (census === undefined) {
      throw new ProblemError('not-found', `There is no census of ${day}; GET /v1/log/censuses lists the days.`);
    }
    return { ...census, groupList: await this.deps.siteLog.censusGroups(census.size) };
  }

  /** Days ascend with the sequence, so that the search ends at the day or before it. */
  private async find(day: string): Promise<CensusAnswer | undefined> {
    for (let afterSeq: number | null = null; ;) {
      const page = { limit: DAYS, order: 'desc' as const, afterSeq, type: LOG_ENTRY_TYPES.censusTaken };
      const found: CensusAnswer[] = (await this.deps.reads.ledger(BOOK_STREAM, page)).map(answerOf);
      const census = found.find((one) => one.day <= day);
      if (census !== undefined) return census.day === day ? census : undefined;
      const last = found.at(-1);
      if (last === undefined) return undefined;
      afterSeq = last.seq;
    }
  }
}

function answerOf({ seq, hash, recordedAt, data }: SealedEntry): CensusAnswer {
  return { ...(data as CensusData), seq, hash, recordedAt };
}

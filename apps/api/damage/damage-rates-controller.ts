import { Controller, Get, Inject, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { Type } from 'class-transformer';
import { DamageRates, damageRates } from '../../../libs/domain/damage/damage-rates.js';
import { dressingOutcomes } from '../../../libs/domain/damage/dressing-outcomes.js';
import { siteWorkOf } from '../../../libs/ledger/views/site-work.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { NumberField, TimeField } from '../http/fields.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

/** Dressings and inspections that one answer reckons with. */
const MOST_ENTRIES = 100_000;
const YEAR_MS = 365 * 24 * 3_600_000;

/** When the work was written into the book, and what the house takes for its rate. */
export class DamageRatesQuery {
  @TimeField({ optional: true, description: 'Inclusive; a year before `to` where left out.' })
  readonly from?: string;

  @TimeField({ optional: true, description: 'Exclusive; now where left out.' })
  readonly to?: string;

  @Type(() => Number)
  @NumberField({ optional: true, min: 0, max: 1, description: 'The rate over all work in range where left out.' })
  readonly houseRate?: number;
}

interface DamageRatesAnswer extends DamageRates {
  readonly from: string;
  readonly to: string;
  readonly complete: boolean;
}

@ApiTags('damage')
@Roles(...HOUSE)
@Controller('v1/damage-rates')
export class DamageRatesController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Share of dressed sites found damaged, by operator, method and station.', ref('DamageRates'))
  @Problems('invalid-query')
  async listDamageRates(@Query() query: DamageRatesQuery): Promise<DamageRatesAnswer> {
    const to = query.to ?? this.deps.clock.now();
    const from = query.from ?? new Date(Date.parse(to) - YEAR_MS).toISOString();
    const entries = await this.deps.reads.siteWork({ from, to, limit: MOST_ENTRIES + 1 });
    const complete = entries.length <= MOST_ENTRIES;
    const rows = dressingOutcomes(siteWorkOf(entries.slice(0, MOST_ENTRIES)));
    return { from, to, complete, ...damageRates(rows, query.houseRate) };
  }
}

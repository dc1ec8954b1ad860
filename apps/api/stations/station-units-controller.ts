import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { Interval, microTime } from '../../../libs/ledger/containment/suspect-cause.js';
import { StationUnit, stationUnits, TooManyFacts } from '../../../libs/ledger/stations/station-units.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { TimeField } from '../http/fields.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

const DEFAULT_DAYS = 7;
const DAY_MS = 86_400_000;

export class StationUnitsQuery extends PageQuery {
  @TimeField({
    optional: true,
    description: `What happened from then on; ${DEFAULT_DAYS} days before \`to\` unless told.`,
  })
  readonly from?: string;

  @TimeField({ optional: true, description: 'What happened before then; now unless told. Send both with a cursor.' })
  readonly to?: string;
}

/** Which boards went over a bench. */
@ApiTags('stations')
@Roles(...HOUSE)
@Controller('v1/stations/:station/units')
export class StationUnitsController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(
    200,
    'Units that the station told something of within the interval, by when that last happened, newest first.',
    pageOf(ref('StationUnit')),
  )
  @Problems('not-found', 'invalid-query')
  async listStationUnits(
    @Param('station') station: string,
    @Query() query: StationUnitsQuery,
  ): Promise<ListBody<StationUnit>> {
    const { search, setup, clock } = this.deps;
    const wish = { station, interval: intervalOf(query, clock.now()) };
    const list = await this.read(() =>
      listBody(
        query,
        (page) => stationUnits({ search, setup }, wish, page),
        (unit) => unit,
      ),
    );
    // A station may have been heard that the setup lacks; one of which there is nothing is unknown.
    if (list.items.length === 0 && setup.newest('station', station) === undefined) {
      throw new ProblemError(
        'not-found',
        `Nothing is known of a station ${station} in that time; GET /v1/stations lists them.`,
      );
    }
    return list;
  }

  private async read<T>(work: () => Promise<T>): Promise<T> {
    try {
      return await work();
    } catch (error) {
      if (!(error instanceof TooManyFacts)) throw error;
      throw invalid('/from', error.message);
    }
  }
}

function intervalOf({ from, to }: StationUnitsQuery, now: string): Interval {
  const end = microTime(to ?? now);
  const start = from === undefined ? daysBefore(end) : microTime(from);
  if (start < end) return { from: start, to: end };
  throw invalid('/to', 'Send a to that is later than from.');
}

function daysBefore(end: string): string {
  return microTime(new Date(Date.parse(end) - DEFAULT_DAYS * DAY_MS).toISOString());
}

function invalid(pointer: string, detail: string): ProblemError {
  return new ProblemError('invalid-query', detail, { errors: [{ pointer, detail }] });
}

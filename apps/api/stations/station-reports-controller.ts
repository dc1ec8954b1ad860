import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { StoredRevision } from '../../../libs/ledger/ports/setup-store.js';
import { StationReport, stationReport } from '../../../libs/ledger/stations/station-report.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { type ListBody, listBody, pageOfAll, PageQuery } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';

/** How the stations of the setup stand: when they were heard, whether they measure in date, what lies with them. */
@ApiTags('stations')
@Roles(...HOUSE)
@Controller('v1/station-reports')
export class StationReportsController {
  constructor(@Inject(API_DEPS) private readonly deps: ApiDeps) {}

  @Get()
  @Answers(200, 'Every station of the setup by name.', pageOf(ref('StationReport')))
  @Problems('invalid-query')
  async listStationReports(@Query() query: PageQuery): Promise<ListBody<StationReport>> {
    const { setup } = this.deps;
    await setup.catchUp();
    const all = setup.all('station');
    return listBody(
      query,
      async (page) => {
        const { items, next } = pageOfAll(all, ({ name }) => name, page);
        return { items: await this.reportsOf(items), next };
      },
      (report) => report,
    );
  }

  @Get(':station')
  @Answers(200, 'How the station stands.', ref('StationReport'))
  @Problems('not-found')
  async getStationReport(@Param('station') station: string): Promise<StationReport> {
    const { setup } = this.deps;
    await setup.catchUp();
    const found = setup.newest('station', station);
    const [report] = found === undefined ? [] : await this.reportsOf([found]);
    if (report !== undefined) return report;
    throw new ProblemError(
      'not-found',
      `The setup has no station ${station}; enter it with PUT /v1/stations/{station}.`,
    );
  }

  private async reportsOf(revisions: readonly StoredRevision[]): Promise<StationReport[]> {
    const { stations, clock } = this.deps;
    const now = clock.now();
    const standings = await stations.standings(revisions.map(({ name }) => name));
    return revisions.flatMap((revision, index) => {
      const standing = standings[index];
      return revision.kind === 'station' && standing !== undefined ? [stationReport(revision.body, standing, now)] : [];
    });
  }
}

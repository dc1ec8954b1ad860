import { Body, Controller, Get, Param, Put, Query, Res } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import type { FastifyReply } from 'fastify';
import { profileName } from '../../../libs/domain/setup/setup-data.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { NamePipe } from '../http/name-pipe.js';
import { type ListBody, PageQuery } from '../http/paging.js';
import { Caller, HOUSE, Roles } from '../identity/roles.js';
import { ProfileBody, profileProblems } from './profile-body.js';
import { DescribeHistory, DescribePut, DescribeRecord, DescribeRecords } from './setup-responses.js';
import { SetupDesk, type SetupRecord } from './setup-desk.js';

/**
 * A profile's revisions are named by whoever makes them, and each is a record of its own with a history: in the setup
 * it is called `{profile}@{revision}`.
 */
@ApiTags('setup')
@Roles(...HOUSE)
@Controller('v1/profiles')
export class ProfilesController {
  constructor(private readonly desk: SetupDesk) {}

  @Put(':profile/revisions/:revision')
  @Roles('quality', 'admin')
  @DescribePut(ProfileBody)
  async putProfile(
    @Param('profile', NamePipe) profile: string,
    @Param('revision', NamePipe) revision: string,
    @Body() body: ProfileBody,
    @Caller() caller: Principal,
    @Res({ passthrough: true }) reply: FastifyReply,
  ): Promise<SetupRecord> {
    const name = profileName({ name: profile, revision });
    const { created, record } = await this.desk.put('profile', name, body, caller, profileProblems(body));
    void reply.status(created ? 201 : 200);
    return record;
  }

  @Get(':profile/revisions/:revision')
  @Roles('station', ...HOUSE)
  @DescribeRecord(ProfileBody)
  getProfile(@Param('profile') profile: string, @Param('revision') revision: string): Promise<SetupRecord> {
    return this.desk.get('profile', profileName({ name: profile, revision }));
  }

  @Get()
  @Roles('station', ...HOUSE)
  @DescribeRecords(ProfileBody)
  listProfiles(@Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('profile', query);
  }

  @Get(':profile/revisions')
  @Roles('station', ...HOUSE)
  @DescribeRecords(ProfileBody)
  listProfileRevisions(@Param('profile') profile: string, @Query() query: PageQuery): Promise<ListBody<SetupRecord>> {
    return this.desk.list('profile', query, (name) => name.startsWith(`${profile}@`));
  }

  @Get(':profile/revisions/:revision/history')
  @DescribeHistory(ProfileBody)
  listProfileHistory(
    @Param('profile') profile: string,
    @Param('revision') revision: string,
    @Query() query: PageQuery,
  ): Promise<ListBody<SetupRecord>> {
    return this.desk.history('profile', profileName({ name: profile, revision }), query);
  }
}

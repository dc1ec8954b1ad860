import { Controller, Delete, Get, HttpCode, Inject, Param, Post } from '@nestjs/common';
import { ApiResponse, ApiTags } from '@nestjs/swagger';
import { newKey } from '../../../libs/ledger/keys/new-key.js';
import { KeyHolder } from '../../../libs/ledger/ports/key-store.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import type { ListBody } from '../http/paging.js';
import { ProblemError } from '../http/problem.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { KeyRing } from './key-ring.js';
import { Roles } from './roles.js';

/** One to use and one to change over to. */
const MOST_LIVE_KEYS = 2;

interface LiveKey {
  readonly keyId: string;
  /** RFC 3339 UTC. */
  readonly issuedAt: string;
}

@ApiTags('keys')
@Roles('admin')
@Controller('v1/stations/:station/keys')
export class StationKeysController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly keyRing: KeyRing,
  ) {}

  @Post()
  @Answers(201, 'The key, shown this once.', ref('NewKey'))
  @Problems('not-found', 'too-many-keys')
  async issueStationKey(@Param('station') station: string): Promise<{ keyId: string; key: string }> {
    const principal = await this.existing(station);
    const { key, issued } = newKey({ seal: this.deps.intake.seal, clock: this.deps.clock }, principal);
    if (await this.deps.keys.add(issued, MOST_LIVE_KEYS)) return { keyId: issued.keyId, key };
    throw new ProblemError(
      'too-many-keys',
      `Station ${station} has ${MOST_LIVE_KEYS} live keys. Revoke one with DELETE /v1/stations/${station}/keys/{keyId}, then ask again.`,
    );
  }

  @Get()
  @Roles('auditor', 'admin')
  @Answers(200, 'The live keys, without their text.', pageOf(ref('LiveKey')))
  @Problems('not-found')
  async listStationKeys(@Param('station') station: string): Promise<ListBody<LiveKey>> {
    const live = await this.deps.keys.live(await this.existing(station));
    return { items: live.map(({ keyId, issuedAt }) => ({ keyId, issuedAt })), nextCursor: null };
  }

  @Delete(':keyId')
  @HttpCode(204)
  @ApiResponse({ status: 204, description: 'Revoked: refused from now on.' })
  @Problems('not-found')
  async revokeStationKey(@Param('station') station: string, @Param('keyId') keyId: string): Promise<void> {
    const revoked = await this.deps.keys.revoke({ role: 'station', name: station }, keyId);
    this.keyRing.forget();
    if (revoked) return;
    throw new ProblemError('not-found', `Station ${station} has no live key ${keyId}; GET its keys lists them.`);
  }

  private async existing(station: string): Promise<KeyHolder> {
    await this.deps.setup.catchUp();
    if (this.deps.setup.newest('station', station) !== undefined) return { role: 'station', name: station };
    throw new ProblemError('not-found', `The setup has no station ${station}; enter it with PUT first.`);
  }
}

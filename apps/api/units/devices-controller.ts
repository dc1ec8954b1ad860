import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { deviceKey } from '../../../libs/domain/subject/subject.js';
import type { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import type { DeviceView } from '../../../libs/ledger/views/device-view.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import type { ListBody } from '../http/paging.js';
import { HOUSE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { DeviceReader } from './device-reader.js';
import { ledgerPage, LedgerQuery } from './ledger-query.js';

@ApiTags('devices')
@Roles(...HOUSE)
@Controller('v1/devices')
export class DevicesController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly devices: DeviceReader,
  ) {}

  @Get(':device')
  @Answers(200, 'The device as the book has it now, wherever it is.', ref('Device'))
  @Problems('not-found')
  async getDevice(@Param('device') device: string): Promise<DeviceView> {
    return withNames(this.deps.identity.names, await this.devices.read(this.deps.reads, device));
  }

  @Get(':device/ledger')
  @Answers(
    200,
    'Entries on the device itself; what happened to it on a unit is in that unit’s ledger.',
    pageOf(ref('Entry')),
  )
  @Problems('not-found', 'invalid-query')
  async getDeviceLedger(@Param('device') device: string, @Query() query: LedgerQuery): Promise<ListBody<SealedEntry>> {
    const page = await ledgerPage(this.deps.reads, deviceKey(device), query);
    if (page.items.length === 0) await this.devices.read(this.deps.reads, device);
    return withNames(this.deps.identity.names, page);
  }
}

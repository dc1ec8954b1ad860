import { Controller, Get, Inject, Param, Query } from '@nestjs/common';
import { ApiTags } from '@nestjs/swagger';
import { UnitState } from '../../../libs/domain/book/state.js';
import { unitKey } from '../../../libs/domain/subject/subject.js';
import type { Principal } from '../../../libs/ledger/identity/principal.js';
import { UnitRow } from '../../../libs/ledger/ports/read-store.js';
import type { SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { withNames } from '../../../libs/ledger/signing/with-names.js';
import { readsFor } from '../access/reads-for.js';
import { API_DEPS, type ApiDeps } from '../api-deps.js';
import { NameField, OneOfField, TextField } from '../http/fields.js';
import { given } from '../http/given.js';
import { type ListBody, listBody, PageQuery } from '../http/paging.js';
import { Caller, PEOPLE, Roles } from '../identity/roles.js';
import { Answers, pageOf, Problems } from '../openapi/describe.js';
import { ref } from '../openapi/schema-parts.js';
import { ledgerPage, LedgerQuery } from './ledger-query.js';
import { type SeenUnit, seenUnit } from './seen-unit.js';
import { UnitReader } from './unit-reader.js';

const UNIT_STATES = ['expected', 'in-house', 'shipped', 'scrapped'] as const satisfies readonly UnitState['status'][];

export class UnitsQuery extends PageQuery {
  @TextField({ optional: true, max: 200 })
  readonly customer?: string;

  @NameField({ optional: true })
  readonly assembly?: string;

  @NameField({ optional: true })
  readonly serial?: string;

  @OneOfField(UNIT_STATES, { optional: true })
  readonly state?: UnitState['status'];
}

@ApiTags('units')
@Roles(...PEOPLE)
@Controller('v1/units')
export class UnitsController {
  constructor(
    @Inject(API_DEPS) private readonly deps: ApiDeps,
    private readonly units: UnitReader,
  ) {}

  @Get()
  @Answers(200, 'Units by assembly and serial.', pageOf(ref('UnitRow')))
  @Problems('invalid-query')
  listUnits(@Query() query: UnitsQuery, @Caller() caller: Principal): Promise<ListBody<UnitRow>> {
    const { customer, assembly, serial, state } = query;
    return listBody(
      query,
      (page) => readsFor(this.deps, caller).units(given({ customer, assembly, serial, state }), page),
      (row) => row,
    );
  }

  @Get(':assembly/:serial')
  @Answers(200, 'The unit as the book has it now.', ref('Unit'))
  @Problems('not-found')
  async getUnit(
    @Param('assembly') assembly: string,
    @Param('serial') serial: string,
    @Caller() caller: Principal,
  ): Promise<SeenUnit> {
    const { view } = await this.units.read(readsFor(this.deps, caller), assembly, serial);
    return withNames(this.deps.identity.names, seenUnit(view, caller));
  }

  @Get(':assembly/:serial/ledger')
  @Answers(200, 'Entries of its ledger.', pageOf(ref('Entry')))
  @Problems('not-found', 'invalid-query')
  async getUnitLedger(
    @Param('assembly') assembly: string,
    @Param('serial') serial: string,
    @Query() query: LedgerQuery,
    @Caller() caller: Principal,
  ): Promise<ListBody<SealedEntry>> {
    const reads = readsFor(this.deps, caller);
    const page = await ledgerPage(reads, unitKey(assembly, serial), query);
    // An empty page says nothing of whether the unit is known.
    if (page.items.length === 0) await this.units.read(reads, assembly, serial);
    return withNames(this.deps.identity.names, page);
  }
}

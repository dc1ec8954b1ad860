import { DynamicModule, Module } from '@nestjs/common';
import { APP_GUARD } from '@nestjs/core';
import { AccessRecorder } from './access/access-recorder.js';
import { RefusalLimits } from './access/refusal-limits.js';
import type { BucketSize } from './access/token-bucket.js';
import { AccessRecordsController } from './access/access-records-controller.js';
import { API_DEPS, ApiDeps } from './api-deps.js';
import { AnnulmentsController } from './annulments/annulments-controller.js';
import { ArchivesController } from './archives/archives-controller.js';
import { AsyncApiController } from './asyncapi/asyncapi-controller.js';
import { AuditsController } from './audits/audits-controller.js';
import { ClearancesController } from './clearances/clearances-controller.js';
import { ConcessionsController } from './concessions/concessions-controller.js';
import { DamageRatesController } from './damage/damage-rates-controller.js';
import { HealthController } from './health/health-controller.js';
import { HoldDeskController } from './holds/hold-desk-controller.js';
import { HoldExplainer } from './holds/hold-explainer.js';
import { ContainmentDesk } from './containments/containment-desk.js';
import { ContainmentsController } from './containments/containments-controller.js';
import { HoldsController } from './holds/holds-controller.js';
import { KeyRing } from './identity/key-ring.js';
import { PasswordDesk } from './identity/password-desk.js';
import { PeopleController } from './identity/people-controller.js';
import { RoleGuard } from './identity/role-guard.js';
import { SessionController } from './identity/session-controller.js';
import { SessionDesk } from './identity/session-desk.js';
import { SigningDesk } from './identity/signing-desk.js';
import { StationKeysController } from './identity/station-keys-controller.js';
import { EventsController } from './intake/events-controller.js';
import { IntakeDesk } from './intake/intake-desk.js';
import { ParkedEventsController } from './intake/parked-events-controller.js';
import { QueueController } from './intake/queue-controller.js';
import { CensusesController } from './log/censuses-controller.js';
import { LogController } from './log/log-controller.js';
import { LogEntriesController } from './log/log-entries-controller.js';
import { ApiMetrics } from './metrics/api-metrics.js';
import { MetricsController } from './metrics/metrics-controller.js';
import { NoticesController } from './notices/notices-controller.js';
import { OpenApiController } from './openapi/openapi-controller.js';
import { OpenApiSource } from './openapi/openapi-source.js';
import { StreamController } from './stream/stream-controller.js';
import { StreamDesk } from './stream/stream-desk.js';
import { DeskController } from './pages/desk-controller.js';
import { DeskPages } from './pages/desk-pages.js';
import { VerifyPage } from './pages/verify-page.js';
import { VerifyPageController } from './pages/verify-page-controller.js';
import { LegalHoldsController } from './retention/legal-holds-controller.js';
import { RetentionsController } from './retention/retentions-controller.js';
import { SearchController } from './search/search-controller.js';
import { StationListener } from './stations/station-listener.js';
import { StationReportsController } from './stations/station-reports-controller.js';
import { StationUnitsController } from './stations/station-units-controller.js';
import { AssembliesController } from './setup/assemblies-controller.js';
import { CopperRatesController } from './setup/copper-rates-controller.js';
import { LimitsController } from './setup/limits-controller.js';
import { OperatorsController } from './setup/operators-controller.js';
import { PartsController } from './setup/parts-controller.js';
import { ProfilesController } from './setup/profiles-controller.js';
import { SetupDesk } from './setup/setup-desk.js';
import { StationsController } from './setup/stations-controller.js';
import { TracesController } from './traces/traces-controller.js';
import { MethodPlansController } from './plans/method-plans-controller.js';
import { DeviceReader } from './units/device-reader.js';
import { DevicesController } from './units/devices-controller.js';
import { UnitReader } from './units/unit-reader.js';
import { UnitsController } from './units/units-controller.js';

/** Every route of the service. */
export const API_CONTROLLERS = [
  AssembliesController,
  PartsController,
  StationsController,
  StationKeysController,
  PeopleController,
  SessionController,
  OperatorsController,
  ProfilesController,
  LimitsController,
  CopperRatesController,
  MethodPlansController,
  DamageRatesController,
  EventsController,
  ParkedEventsController,
  QueueController,
  StationReportsController,
  StationUnitsController,
  UnitsController,
  AuditsController,
  ArchivesController,
  DevicesController,
  SearchController,
  ClearancesController,
  HoldsController,
  NoticesController,
  HoldDeskController,
  ConcessionsController,
  AnnulmentsController,
  ContainmentsController,
  RetentionsController,
  LegalHoldsController,
  TracesController,
  LogController,
  LogEntriesController,
  CensusesController,
  AccessRecordsController,
  VerifyPageController,
  DeskController,
  StreamController,
  HealthController,
  MetricsController,
  OpenApiController,
  AsyncApiController,
];

/** The HTTP face over whatever stores and use cases it is given. */
@Module({})
export class ApiModule {
  /**
   * @param pages folder of the built pages
   * @param refusals how many one client may have
   */
  static register(deps: ApiDeps, pages: string, refusals: BucketSize): DynamicModule {
    return {
      module: ApiModule,
      controllers: API_CONTROLLERS,
      providers: [
        { provide: API_DEPS, useValue: deps },
        { provide: KeyRing, useFactory: () => new KeyRing(deps.keys, deps.intake.seal, deps.adminKeyHash) },
        { provide: ApiMetrics, useFactory: () => new ApiMetrics() },
        {
          provide: AccessRecorder,
          useFactory: (metrics: ApiMetrics) =>
            new AccessRecorder({
              store: deps.access,
              log: deps.log,
              countDropped: (records) => {
                metrics.countDroppedRecords(records);
              },
            }),
          inject: [ApiMetrics],
        },
        {
          provide: StationListener,
          useFactory: () => new StationListener({ store: deps.stations, clock: deps.clock, log: deps.log }),
        },
        { provide: RefusalLimits, useFactory: () => new RefusalLimits(refusals, deps.log) },
        { provide: DeskPages, useFactory: () => new DeskPages(pages) },
        { provide: VerifyPage, useFactory: () => new VerifyPage(pages) },
        { provide: OpenApiSource, useFactory: () => new OpenApiSource() },
        { provide: APP_GUARD, useClass: RoleGuard },
        IntakeDesk,
        PasswordDesk,
        StreamDesk,
        SessionDesk,
        SigningDesk,
        SetupDesk,
        ContainmentDesk,
        UnitReader,
        DeviceReader,
        HoldExplainer,
      ],
    };
  }
}

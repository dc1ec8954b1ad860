import { BullModule } from '@nestjs/bullmq';
import { DynamicModule, Module } from '@nestjs/common';
import { APP_GUARD } from '@nestjs/core';
import { TypeOrmModule } from '@nestjs/typeorm';
import { BearerGuard } from './bearer.guard.js';
import { Device } from './entities/device.js';
import { Hold } from './entities/hold.js';
import { LedgerEntry } from './entities/ledger-entry.js';
import { Site } from './entities/site.js';
import { StoredEvent } from './entities/stored-event.js';
import { Unit } from './entities/unit.js';
import { EVENT_QUEUE } from './event-job.js';
import { EventProcessor } from './event.processor.js';
import { EventsController } from './events.controller.js';
import { EventsService } from './events.service.js';
import { API_POOL, Settings, WORKER_CONCURRENCY } from './settings.js';

@Module({})
export class OrdinaryModule {
  static for({ role, databaseUrl, redisUrl, key }: Settings): DynamicModule {
    const serves = role !== 'worker';
    const works = role !== 'api';
    return {
      module: OrdinaryModule,
      imports: [
        TypeOrmModule.forRoot({
          type: 'postgres',
          url: databaseUrl,
          entities: [StoredEvent, Unit, Site, Device, Hold, LedgerEntry],
          // Enough for a baseline that starts on an empty database each time; the api, which starts first, does it.
          synchronize: serves,
          poolSize: (serves ? API_POOL : 0) + (works ? WORKER_CONCURRENCY : 0),
          retryAttempts: 0,
        }),
        TypeOrmModule.forFeature([StoredEvent]),
        BullModule.forRoot({ connection: { url: redisUrl, maxRetriesPerRequest: null } }),
        BullModule.registerQueue({
          name: EVENT_QUEUE,
          defaultJobOptions: {
            attempts: 3,
            backoff: { type: 'exponential', delay: 200 },
            removeOnComplete: true,
            removeOnFail: { count: 1_000 },
          },
        }),
      ],
      controllers: serves ? [EventsController] : [],
      providers: [
        ...(serves ? [EventsService, { provide: APP_GUARD, useFactory: () => new BearerGuard(key) }] : []),
        ...(works ? [EventProcessor] : []),
      ],
    };
  }
}

import { Processor, WorkerHost } from '@nestjs/bullmq';
import { BeforeApplicationShutdown } from '@nestjs/common';
import { Job } from 'bullmq';
import { DataSource } from 'typeorm';
import { applyEvent } from './apply-event.js';
import { EVENT_QUEUE, EventJob } from './event-job.js';
import { WORKER_CONCURRENCY } from './settings.js';

/** Works one event a job, each in a transaction of its own. */
@Processor(EVENT_QUEUE, { concurrency: WORKER_CONCURRENCY })
export class EventProcessor extends WorkerHost implements BeforeApplicationShutdown {
  constructor(private readonly dataSource: DataSource) {
    super();
  }

  async process({ data }: Job<EventJob>): Promise<void> {
    await this.dataSource.transaction((manager) => applyEvent(manager, data.eventId));
  }

  /** Jobs in hand are worked to their end while there still are connections. */
  async beforeApplicationShutdown(): Promise<void> {
    await this.worker.close();
  }
}

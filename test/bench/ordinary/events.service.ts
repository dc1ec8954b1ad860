import { InjectQueue } from '@nestjs/bullmq';
import { Injectable } from '@nestjs/common';
import { InjectRepository } from '@nestjs/typeorm';
import { Queue } from 'bullmq';
import { DatabaseError } from 'pg';
import { QueryFailedError, Repository } from 'typeorm';
import { StoredEvent } from './entities/stored-event.js';
import { EVENT_QUEUE, EventJob } from './event-job.js';
import { EventDto } from './event.dto.js';

export interface Acceptance {
  readonly id: string;
  readonly state: 'accepted' | 'duplicate';
}

const APPLY = 'apply';
const UNIQUE_VIOLATION = '23505';

/** Keeps events and hands each to the queue. A process that dies between the two leaves events that nobody works. */
@Injectable()
export class EventsService {
  constructor(
    @InjectRepository(StoredEvent) private readonly events: Repository<StoredEvent>,
    @InjectQueue(EVENT_QUEUE) private readonly queue: Queue<EventJob>,
  ) {}

  async accept(event: EventDto): Promise<Acceptance> {
    const row = this.events.create(rowOf(event));
    try {
      // One statement is a transaction of its own: no need for two more round trips around it.
      await this.events.save(row, { transaction: false });
    } catch (error) {
      if (isDuplicate(error)) return { id: event.id, state: 'duplicate' };
      throw error;
    }
    await this.queue.add(APPLY, { eventId: row.id });
    return { id: event.id, state: 'accepted' };
  }

  async acceptAll(events: readonly EventDto[]): Promise<Acceptance[]> {
    if (events.length === 0) return [];
    const result = await this.events
      .createQueryBuilder()
      .insert()
      .values(events.map(rowOf))
      .orIgnore()
      .returning(['id', 'source', 'eventId'])
      .updateEntity(false)
      .execute();
    const inserted = result.raw as readonly Pick<StoredEvent, 'id' | 'source' | 'eventId'>[];
    await this.queue.addBulk(inserted.map(({ id }) => ({ name: APPLY, data: { eventId: id } })));
    const fresh = new Set(inserted.map(({ source, eventId }) => identity(source, eventId)));
    // An event that comes twice in a batch is fresh once.
    return events.map(({ source, id }) => ({
      id,
      state: fresh.delete(identity(source, id)) ? 'accepted' : 'duplicate',
    }));
  }
}

function rowOf({ source, id, type, subject, time, data }: EventDto): Omit<StoredEvent, 'id' | 'receivedAt'> {
  return { source, eventId: id, type, subject, time: new Date(time), data, processedAt: null };
}

function identity(source: string, id: string): string {
  return `${source} ${id}`;
}

function isDuplicate(error: unknown): boolean {
  return (
    error instanceof QueryFailedError &&
    error.driverError instanceof DatabaseError &&
    error.driverError.code === UNIQUE_VIOLATION
  );
}

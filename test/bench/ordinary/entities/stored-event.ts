import { Column, CreateDateColumn, Entity, PrimaryGeneratedColumn, Unique } from 'typeorm';
import type { EventData, EventType } from '../event-data.dto.js';

/** What a station said, as it came in. */
@Entity('event')
@Unique(['source', 'eventId'])
export class StoredEvent {
  @PrimaryGeneratedColumn('identity', { type: 'bigint' })
  id!: string;

  @Column('text')
  source!: string;

  @Column('text')
  eventId!: string;

  @Column('text')
  type!: EventType;

  @Column('text')
  subject!: string;

  @Column('timestamptz')
  time!: Date;

  @Column('jsonb')
  data!: EventData;

  @CreateDateColumn({ type: 'timestamptz' })
  receivedAt!: Date;

  @Column('timestamptz', { nullable: true })
  processedAt!: Date | null;
}

import { Column, CreateDateColumn, Entity, PrimaryColumn } from 'typeorm';
import type { EventData, EventType } from '../event-data.dto.js';
import type { Effect } from '../effect.js';

/** One link in the chain of a unit or of a loose device. */
@Entity('ledger_entry')
export class LedgerEntry {
  @PrimaryColumn('text')
  subject!: string;

  /** From 1, without gaps. */
  @PrimaryColumn('integer')
  seq!: number;

  @Column('text', { nullable: true })
  prevHash!: string | null;

  @Column('text')
  hash!: string;

  @Column('text')
  source!: string;

  @Column('text')
  eventId!: string;

  @Column('text')
  type!: EventType;

  @Column('timestamptz')
  time!: Date;

  @Column('jsonb')
  data!: EventData;

  @Column('jsonb')
  effects!: Effect[];

  @CreateDateColumn({ type: 'timestamptz' })
  recordedAt!: Date;
}

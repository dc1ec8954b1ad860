import { Column, CreateDateColumn, Entity, Index, PrimaryGeneratedColumn } from 'typeorm';
import type { LimitKind } from '../limits.js';

/** A stop on a device or a site that has spent more than it may. */
@Entity('hold')
export class Hold {
  @PrimaryGeneratedColumn('identity', { type: 'bigint' })
  id!: string;

  @Index()
  @Column('text')
  subject!: string;

  @Column('text')
  limit!: LimitKind;

  @Column('integer')
  used!: number;

  @Column('integer')
  allowed!: number;

  /** The event that passed the limit. */
  @Column('bigint')
  event!: string;

  @CreateDateColumn({ type: 'timestamptz' })
  raisedAt!: Date;
}

import { Column, Entity, PrimaryColumn } from 'typeorm';

/** One land pattern of a unit, guarded by the lock of its unit. */
@Entity('site')
export class Site {
  @PrimaryColumn('text')
  unit!: string;

  @PrimaryColumn('text')
  refdes!: string;

  /** The device on it, if it is known by name. */
  @Column('text', { nullable: true })
  device!: string | null;

  /** When that changed last. */
  @Column('timestamptz', { nullable: true })
  deviceChangedAt!: Date | null;

  @Column('integer', { default: 0 })
  heats!: number;

  /** Declared when the unit came in. */
  @Column('integer', { default: 0 })
  priorReworks!: number;

  /** Counted here. */
  @Column('integer', { default: 0 })
  reworks!: number;

  @Column('integer', { default: 0 })
  dressingPasses!: number;

  /** Seconds of contact with molten solder, summed over dressings. */
  @Column('double precision', { default: 0 })
  contactSeconds!: number;

  @Column('text', { nullable: true })
  inspection!: 'pass' | 'fail' | null;

  @Column('timestamptz', { nullable: true })
  lastEventAt!: Date | null;
}

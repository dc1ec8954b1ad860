import { Column, Entity, PrimaryColumn } from 'typeorm';

export type DeviceStatus = 'loose' | 'placed' | 'scrapped';

/** One component, on a site or loose. */
@Entity('device')
export class Device {
  @PrimaryColumn('text')
  name!: string;

  @Column('text', { nullable: true })
  part!: string | null;

  @Column('text', { nullable: true })
  status!: DeviceStatus | null;

  /** Declared when it came in. */
  @Column('integer', { default: 0 })
  priorExcursions!: number;

  /** Counted here. */
  @Column('integer', { default: 0 })
  excursions!: number;

  @Column('timestamptz', { nullable: true })
  lastEventAt!: Date | null;

  /** Length of the ledger that it has while it is loose. */
  @Column('integer', { default: 0 })
  headSeq!: number;

  @Column('text', { nullable: true })
  headHash!: string | null;
}

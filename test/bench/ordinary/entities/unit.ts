import { Column, Entity, PrimaryColumn } from 'typeorm';

export type UnitStatus = 'received' | 'in-work' | 'shipped';

/** One board. Its row is locked for all that is done to it and its sites. */
@Entity('unit')
export class Unit {
  /** `{assembly}/{serial}` */
  @PrimaryColumn('text')
  name!: string;

  @Column('text', { nullable: true })
  status!: UnitStatus | null;

  @Column('timestamptz', { nullable: true })
  lastEventAt!: Date | null;

  /** Length of its ledger. */
  @Column('integer', { default: 0 })
  headSeq!: number;

  @Column('text', { nullable: true })
  headHash!: string | null;
}

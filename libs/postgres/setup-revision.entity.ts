import { Column, Entity, PrimaryColumn } from 'typeorm';

/** One revision of one setup record. Append-only. */
@Entity('setup_revision')
export class SetupRevisionEntity {
  /** bigint: arrives as text. */
  @PrimaryColumn('bigint')
  version!: string;

  @Column('text')
  kind!: string;

  @Column('text')
  name!: string;

  @Column('integer')
  revision!: number;

  @Column('jsonb')
  body!: object;

  @Column('text')
  by!: string;

  @Column('timestamptz')
  at!: Date;
}

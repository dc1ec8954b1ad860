import { Column, Entity, PrimaryColumn } from 'typeorm';

/** A key by its hash; the key itself is kept nowhere. */
@Entity('access_key')
export class AccessKeyEntity {
  @PrimaryColumn('text', { name: 'key_id' })
  keyId!: string;

  @Column('text', { name: 'key_hash', unique: true })
  keyHash!: string;

  @Column('text')
  role!: string;

  @Column('text')
  name!: string;

  @Column('timestamptz', { name: 'issued_at' })
  issuedAt!: Date;

  @Column('timestamptz', { name: 'revoked_at', nullable: true })
  revokedAt!: Date | null;
}

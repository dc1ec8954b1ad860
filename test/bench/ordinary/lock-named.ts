import {
  DeepPartial,
  FindManyOptions,
  FindOptionsOrder,
  FindOptionsWhere,
  In,
  QueryDeepPartialEntity,
  Repository,
} from 'typeorm';

/**
 * Rows by name, locked, in the order of their names. Those that are not there are made: who comes first makes them, and who
 * comes at the same time waits for him.
 */
export async function lockNamed<Row extends { name: string }>(
  rows: Repository<Row>,
  names: readonly string[],
): Promise<Row[]> {
  const wanted = [...new Set(names)];
  if (wanted.length === 0) return [];
  const locked: FindManyOptions<Row> = {
    where: { name: In(wanted) } as FindOptionsWhere<Row>,
    order: { name: 'ASC' } as FindOptionsOrder<Row>,
    lock: { mode: 'pessimistic_write' },
  };
  const found = await rows.find(locked);
  if (found.length === wanted.length) return found;
  const missing = wanted.filter((name) => !found.some((row) => row.name === name)).sort();
  await rows
    .createQueryBuilder()
    .insert()
    .values(missing.map((name) => rows.create({ name } as DeepPartial<Row>) as QueryDeepPartialEntity<Row>))
    .orIgnore()
    .execute();
  return rows.find(locked);
}

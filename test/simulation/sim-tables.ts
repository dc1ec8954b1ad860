import { ChangeTables } from '../../libs/ledger/memory/change-tables.js';
import { LogTables } from '../../libs/ledger/memory/log-tables.js';
import { MemoryTables } from '../../libs/ledger/memory/memory-tables.js';

/** Tables with the same rows, which are replaced and never changed. What the log was told of must have its place already. */
export function copyOf(tables: MemoryTables): MemoryTables {
  if (tables.log.inbox.length > 0) throw new Error('the log has not been brought up to date');
  const copy = new MemoryTables();
  for (const [name, own] of Object.entries(copy)) {
    const from: unknown = Reflect.get(tables, name);
    if (own instanceof Map && from instanceof Map) for (const [key, row] of from) own.set(key, row);
    else if (Array.isArray(own) && Array.isArray(from)) own.push(...(from as unknown[]));
    else if (own instanceof LogTables && from instanceof LogTables) {
      const { origin, leaves, nodes, checkpoints } = from;
      Object.assign(own, { origin, leaves, nodes, checkpoints });
    } else if (!(own instanceof ChangeTables) && own !== null)
      throw new Error(`${name} is no table that can be copied`);
  }
  return copy;
}

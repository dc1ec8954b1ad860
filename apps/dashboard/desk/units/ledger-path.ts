import { paths } from '../paths.js';
import type { LedgerSource } from './ledger-queries.js';

/** The address of an entry, opened in the ledger on the page of its board or device. */
export function ledgerPath(source: LedgerSource, seq: number): string {
  const page = source.kind === 'unit' ? paths.unit(source.assembly, source.serial) : paths.device(source.device);
  return `${page}?${new URLSearchParams({ part: 'ledger', seq: String(seq) }).toString()}`;
}

/** The board whose ledger has this name; undefined where it is another's. */
export function unitOfStream(stream: string): Extract<LedgerSource, { kind: 'unit' }> | undefined {
  const [, assembly, serial] = /^([^/]+)\/([^/]+)$/.exec(stream) ?? [];
  if (assembly === undefined || serial === undefined || ['devices', 'stations'].includes(assembly)) return undefined;
  return { kind: 'unit', assembly, serial };
}

import { BookDeps } from '../../libs/ledger/fold/book-deps.js';
import { SiteLogDeps } from '../../libs/ledger/log/site-log-deps.js';
import { PlantedFault } from './planted-fault.js';
import { SimCarrier } from './sim-carrier.js';
import { SimProcess } from './sim-process.js';

/** What a process is put together from. */
export interface ProcessParts {
  readonly carrier: SimCarrier;
  readonly planted: PlantedFault;
  depsOf(process: SimProcess): BookDeps;
  logDepsOf(process: SimProcess): SiteLogDeps;
}

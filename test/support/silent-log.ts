import { Log } from '../../libs/ledger/ports/log.js';

/** For suites that provoke trouble and look at what comes of it. */
export const silentLog: Log = { info: () => undefined, warn: () => undefined, error: () => undefined };

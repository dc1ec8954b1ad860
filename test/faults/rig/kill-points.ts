import { Role } from './supervised.js';
import { WireTrap } from './wire-proxy.js';

export interface KillPoint extends Omit<WireTrap, 'spring'> {
  readonly name: string;
  readonly role: Role;
}

/** It is prepared once a connection; what each use of it sends is its name. */
const INSERT = 'accept_events';
const CLAIM = 'FROM intake_pending p JOIN intake_event e';
const ENTRIES = 'INSERT INTO ledger_entry';
const LEAVES = 'INSERT INTO log_leaf';

/**
 * Points around the commits of intake, fold and log, named by what goes over the wire to Postgres: the product has no hooks
 * for this, and what is killed is what runs in a house.
 */
export const KILL_POINTS: readonly KillPoint[] = [
  { name: 'api killed before its insert', role: 'api', text: INSERT, when: 'held' },
  { name: 'api killed while its insert commits', role: 'api', text: INSERT, when: 'passed' },
  { name: 'api killed between commit and answer', role: 'api', text: INSERT, when: 'answered' },
  { name: 'worker killed after its claim', role: 'worker', text: CLAIM, when: 'answered' },
  { name: 'worker killed before its entries', role: 'worker', text: ENTRIES, when: 'held' },
  { name: 'worker killed while it writes', role: 'worker', text: ENTRIES, when: 'passed' },
  { name: 'worker killed before its commit', role: 'worker', after: ENTRIES, text: 'COMMIT', when: 'held' },
  { name: 'worker killed while it commits', role: 'worker', after: ENTRIES, text: 'COMMIT', when: 'passed' },
  { name: 'worker killed after its commit', role: 'worker', after: ENTRIES, text: 'COMMIT', when: 'answered' },
  { name: 'worker killed before the log', role: 'worker', text: LEAVES, when: 'held' },
  { name: 'worker killed while the log commits', role: 'worker', after: LEAVES, text: 'COMMIT', when: 'passed' },
];

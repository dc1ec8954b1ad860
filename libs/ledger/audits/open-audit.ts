import { devicesAboard } from '../../domain/book/reach.js';
import { UnitState } from '../../domain/book/state.js';
import { deviceKey, subjectKey } from '../../domain/subject/subject.js';
import { LogReader } from '../log/log-reader.js';
import { Clock } from '../ports/clock.js';
import { MOST_OPENED, PersonNames } from '../ports/person-names.js';
import { ReadStore } from '../ports/read-store.js';
import { TraceStore } from '../ports/trace-store.js';
import { SetupBook } from '../setup/setup-book.js';
import { UnitReading } from '../views/read-unit.js';
import { auditAudience } from './audit-audience.js';
import { auditConfiguration } from './audit-configuration.js';
import { auditHolds } from './audit-holds.js';
import { AuditAudience, AuditLedger, AuditPerson, AuditSource } from './audit-source.js';
import { commitmentIn, EntryMarks } from './entry-marks.js';
import { namingParts } from './entry-parts.js';
import { openLedger } from './open-ledger.js';

/** How long an export waits for its newest entries to come under a signed checkpoint; then it does with what there is. */
export const LOG_PATIENCE_MS = 4_000;

/** What exports are made from. */
export interface AuditDeps {
  /** Those of the reader: a customer's show no more than is theirs. */
  readonly reads: ReadStore;
  readonly traces: Pick<TraceStore, 'get' | 'described'>;
  readonly names: PersonNames;
  /** Null where there is no log. */
  readonly siteLog: LogReader | null;
  readonly setup: SetupBook;
  readonly clock: Clock;
}

export interface AuditWish {
  readonly for: AuditAudience['for'];
  /** Sizes of checkpoints that the reader has kept. */
  readonly since?: readonly number[];
  /** Ends the reading: nobody wants the export any more. */
  readonly signal?: AbortSignal;
}

/**
 * Opens the whole history of a unit as it stood when the unit was read: entries that came since are left out. Reads every
 * entry once, a page at a time, to know what they name; a format reads them again.
 * @throws BrokenLedger
 */
export async function openAudit(deps: AuditDeps, reading: UnitReading, wish: AuditWish): Promise<AuditSource> {
  const { setup, clock, traces } = deps;
  const { state, record, view } = reading;
  const { assembly, serial } = state;
  const forHouse = wish.for === 'house';
  const names = devicesOf(state);
  const ledger = openLedger(deps.reads, record, wish.signal);
  const devices = forHouse ? await openDevices(deps.reads, names, wish.signal) : [];
  const marks = await marksOf([ledger, ...devices]);
  const holds = await auditHolds(deps.reads, reading);
  for (const { dispositions, release } of holds) {
    for (const { signature } of [...dispositions, ...(release === null ? [] : [release])]) {
      const commitment = commitmentIn(signature);
      if (commitment !== undefined) marks.commitments.add(commitment);
    }
  }
  const conceded = [...ownSubjects(state), ...(forHouse ? names.map(deviceKey) : [])];
  return {
    ...{ assembly, serial, exportedAt: clock.now(), audience: auditAudience(wish.for), unit: view, holds },
    configuration: auditConfiguration(setup, assembly, marks, conceded, wish.for),
    traces: await traces.described([...marks.traces]),
    people: await opened(deps.names, [...marks.commitments]),
    log: await evidenceOf(deps.siteLog, [ledger, ...devices], wish.since ?? []),
    ...{ ledger, devices },
    trace: (name) => (marks.traces.has(name) ? traces.get(name) : Promise.resolve(undefined)),
  };
}

/** Devices that are or were on the unit, by name. */
function devicesOf(state: UnitState): readonly string[] {
  return [...new Set([...state.devicesSeen, ...devicesAboard(state)])].sort();
}

function ownSubjects(state: UnitState): readonly string[] {
  const { assembly, serial } = state;
  const sites = Object.keys(state.sites).map((refdes) => subjectKey({ kind: 'site', assembly, serial, refdes }));
  return [subjectKey({ kind: 'unit', assembly, serial }), ...sites];
}

/** A device that nothing has happened to has no ledger. */
async function openDevices(
  reads: ReadStore,
  names: readonly string[],
  signal: AbortSignal | undefined,
): Promise<AuditSource['devices']> {
  const records = await reads.subjects(names.map(deviceKey));
  return records
    .filter(({ headSeq }) => headSeq > 0)
    .map((record) => ({ device: record.key.slice(deviceKey('').length), ...openLedger(reads, record, signal) }));
}

async function marksOf(ledgers: readonly AuditLedger[]): Promise<EntryMarks> {
  const marks = new EntryMarks();
  for (const ledger of ledgers) {
    for await (const page of ledger.pages()) for (const entry of page) marks.add(namingParts(entry));
  }
  return marks;
}

async function opened(names: PersonNames, commitments: readonly string[]): Promise<readonly AuditPerson[]> {
  const sorted = [...commitments].sort();
  const people: AuditPerson[] = [];
  for (let from = 0; from < sorted.length; from += MOST_OPENED) {
    people.push(...(await names.opened(sorted.slice(from, from + MOST_OPENED))));
  }
  return people;
}

async function evidenceOf(
  log: LogReader | null,
  ledgers: readonly AuditLedger[],
  since: readonly number[],
): Promise<AuditSource['log']> {
  if (log === null) return null;
  const reach = ledgers.map(({ subject, count }) => ({ subject, seq: count }));
  await log.caughtUp(reach, LOG_PATIENCE_MS);
  return log.evidence(reach, since);
}

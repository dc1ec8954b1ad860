import { createHash } from 'node:crypto';
import canonicalize from 'canonicalize';
import { Effect } from './effect.js';
import { Device } from './entities/device.js';
import { LedgerEntry } from './entities/ledger-entry.js';
import { StoredEvent } from './entities/stored-event.js';
import { Unit } from './entities/unit.js';

/** Makes the next entry of a chain and moves its head on to it. The hash is SHA-256 in hex, of the canonical JSON. */
export function nextEntry(
  chain: Unit | Device,
  { subject, source, eventId, type, time, data }: StoredEvent,
  effects: Effect[],
): Omit<LedgerEntry, 'recordedAt'> {
  const entry = { subject, seq: chain.headSeq + 1, prevHash: chain.headHash, source, eventId, type, data, effects };
  const text = canonicalize({ ...entry, time: time.toISOString() });
  if (text === undefined) throw new TypeError('An entry has a canonical form');
  const hash = createHash('sha256').update(text).digest('hex');
  chain.headSeq = entry.seq;
  chain.headHash = hash;
  return { ...entry, time, hash };
}

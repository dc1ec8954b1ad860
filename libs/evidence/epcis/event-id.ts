import { createHash } from 'node:crypto';
import { OWN_NAMESPACE } from './own-terms.js';

/** The name space for URLs, RFC 9562, section 6.6. */
const URL_SPACE = Buffer.from('6ba7b8119dad11d180b400c04fd430c8', 'hex');

/**
 * The id of an event: a UUID of version 5 (RFC 9562, section 5.5) over the hash of its entry and its place among the events
 * of that entry, so that each export gives the same event the same id, and another content another.
 * @param place from 0
 */
export function eventId(entryHash: string, place: number): string {
  const digest = createHash('sha1').update(URL_SPACE).update(`${OWN_NAMESPACE}events/${entryHash}/${place}`).digest();
  const bytes = digest.subarray(0, 16);
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x50;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = bytes.toString('hex');
  const groups = [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)];
  return `urn:uuid:${groups.join('-')}`;
}

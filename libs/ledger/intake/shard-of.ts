import { StreamKey } from '../../domain/subject/subject.js';

/**
 * The shard that a subject's pending events wait in: FNV-1a, 32 bit, over the UTF-8 bytes of its key (which are ASCII),
 * modulo the number of shards. The same in every process; changing it would strand pending events.
 * @param shards how many there are, from 1.
 */
export function shardOf(subject: StreamKey, shards: number): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < subject.length; index += 1) {
    hash = Math.imul(hash ^ subject.charCodeAt(index), 0x01000193);
  }
  return (hash >>> 0) % shards;
}

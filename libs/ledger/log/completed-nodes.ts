import { LogNode, SUBTREE_STEP } from '../ports/log-store.js';
import { Sha256 } from './merkle/hashing.js';
import { SubtreeReader } from './merkle/subtrees.js';
import { rootOfPerfect } from './stored-subtrees.js';

const FAN = 2 ** SUBTREE_STEP;

/**
 * The subtrees that new leaves complete, of those that are kept.
 * @param read what the log had before
 * @param size leaves that it had
 * @param added hashes of the leaves that follow
 */
export async function completedNodes(
  sha256: Sha256,
  read: SubtreeReader,
  size: number,
  added: readonly Uint8Array[],
): Promise<LogNode[]> {
  const nodes: LogNode[] = [];
  let [level, had, fresh] = [0, size, added];
  while (fresh.length > 0) {
    const first = Math.floor(had / FAN);
    const end = Math.floor((had + fresh.length) / FAN);
    // Those before the first new one that belong to the same subtree.
    const before = first === end ? [] : await read(range(first * FAN, had).map((index) => ({ level, index })));
    const children = [...before, ...fresh];
    const above = range(first, end).map((_, n) => rootOfPerfect(sha256, children.slice(n * FAN, (n + 1) * FAN)));
    level += SUBTREE_STEP;
    for (const [n, hash] of above.entries()) nodes.push({ level, index: first + n, hash });
    [had, fresh] = [first, above];
  }
  return nodes;
}

function range(from: number, to: number): number[] {
  return Array.from({ length: to - from }, (_, n) => from + n);
}

import { RowLocks } from './row-locks.js';

describe('row locks', () => {
  it('hands a lock on in the order in which it was asked for', async () => {
    const locks = new RowLocks();
    const [a, b, c] = [{}, {}, {}];
    const log: string[] = [];
    await locks.take(a, ['x']);
    const asked = [b, c].map(async (owner, index) => {
      await locks.take(owner, ['x']);
      log.push(`${index}`);
      locks.releaseAll(owner);
    });
    log.push('a ends');
    locks.releaseAll(a);
    await Promise.all(asked);
    expect(log).toEqual(['a ends', '0', '1']);
  });

  it('refuses the one who would close a circle of waits, and lets the other go on once it gives up', async () => {
    const locks = new RowLocks();
    const [a, b, c] = [{}, {}, {}];
    await locks.take(a, ['x']);
    await locks.take(b, ['y']);
    await locks.take(c, ['z']);
    const waiting = [locks.take(a, ['y']), locks.take(b, ['z'])];
    await expect(locks.take(c, ['x'])).rejects.toThrow('deadlock: x is never let go of');
    locks.releaseAll(c);
    await waiting[1];
    locks.releaseAll(b);
    await waiting[0];
  });

  it('gives an owner again what it has', async () => {
    const locks = new RowLocks();
    const owner = {};
    await locks.take(owner, ['y', 'x', 'y']);
    await expect(locks.take(owner, ['x'])).resolves.toBeUndefined();
  });
});

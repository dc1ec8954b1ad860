import { IssuedKey, KeyHolder } from './key-store.js';
import { Seal } from './seal.js';
import { MakeStores, useBench } from './use-bench.contract.js';

const STATION: KeyHolder = { role: 'station', name: 'bench-1' };
const OTHER_STATION: KeyHolder = { role: 'station', name: 'bench-2' };

/** What every keeper of keys must do. `make` gives a book without keys each time. */
export function describeKeyStore(name: string, make: MakeStores, seal: Seal): void {
  describe(`key store: ${name}`, () => {
    const bench = useBench(make, seal);

    const key = (keyId: string, principal: KeyHolder = STATION): IssuedKey => ({
      keyId,
      keyHash: seal.sha256Hex(`secret of ${keyId}`),
      principal,
      issuedAt: '2026-03-02T08:30:01.000Z',
    });

    it('finds a key by its hash and by whom it speaks for', async () => {
      const { keys } = bench();
      const [mine, others] = [key('k1'), key('k2', OTHER_STATION)];
      expect([await keys.add(mine, 2), await keys.add(others, 2)]).toEqual([true, true]);
      expect(await keys.byHash(mine.keyHash)).toEqual(mine);
      expect(await keys.byHash(others.keyHash)).toEqual(others);
      expect(await keys.byHash(seal.sha256Hex('guessed'))).toBeUndefined();
      expect(await keys.live(STATION)).toEqual([mine]);
      expect(await keys.live({ role: 'station', name: 'bench-3' })).toEqual([]);
    });

    it('tells an admin from a station of the same name', async () => {
      const { keys } = bench();
      const admin = key('k1', { role: 'admin', name: 'bench-1' });
      await keys.add(admin, 1);
      expect(await keys.live(STATION)).toEqual([]);
      expect(await keys.revoke(STATION, 'k1')).toBe(false);
      expect(await keys.add(key('k2'), 1)).toBe(true);
      expect(await keys.byHash(admin.keyHash)).toEqual(admin);
    });

    it('keeps no more than the allowed number of live keys, and nothing of one beyond', async () => {
      const { keys } = bench();
      expect([await keys.add(key('k1'), 2), await keys.add(key('k2'), 2)]).toEqual([true, true]);
      expect(await keys.add(key('k3'), 2)).toBe(false);
      expect(await keys.byHash(key('k3').keyHash)).toBeUndefined();
      expect((await keys.live(STATION)).map(({ keyId }) => keyId).sort()).toEqual(['k1', 'k2']);
      expect(await keys.add(key('k4', OTHER_STATION), 2)).toBe(true);
    });

    it('keeps to that number when many are added at once', async () => {
      const { keys } = bench();
      const ids = ['k1', 'k2', 'k3', 'k4', 'k5', 'k6'];
      const added = await Promise.all(ids.map((id) => keys.add(key(id), 2)));
      expect(added.filter((kept) => kept)).toHaveLength(2);
      const live = (await keys.live(STATION)).map(({ keyId }) => keyId).sort();
      expect(live).toEqual(ids.filter((_, index) => added[index]));
    });

    it('knows a revoked key no more, and makes room for another', async () => {
      const { keys } = bench();
      await keys.add(key('k1'), 1);
      expect(await keys.revoke(STATION, 'k1')).toBe(true);
      expect(await keys.byHash(key('k1').keyHash)).toBeUndefined();
      expect(await keys.live(STATION)).toEqual([]);
      expect(await keys.add(key('k2'), 1)).toBe(true);
      expect((await keys.live(STATION)).map(({ keyId }) => keyId)).toEqual(['k2']);
    });

    it('revokes only a live key of that principal', async () => {
      const { keys } = bench();
      await keys.add(key('k1'), 2);
      expect(await keys.revoke(OTHER_STATION, 'k1')).toBe(false);
      expect(await keys.revoke(STATION, 'never issued')).toBe(false);
      expect(await keys.byHash(key('k1').keyHash)).toEqual(key('k1'));
      expect(await keys.revoke(STATION, 'k1')).toBe(true);
      expect(await keys.revoke(STATION, 'k1')).toBe(false);
    });
  });
}

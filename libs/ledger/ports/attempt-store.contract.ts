import { afterFailure } from '../identity/back-off.js';
import { IdentityStores } from './identity-stores.js';
import { MakeIdentity, useIdentity } from './identity.contract.js';
import { MADE } from './person-samples.contract.js';

function fail({ attempts }: IdentityStores, name: string, at = MADE.at): Promise<void> {
  return attempts.inTurn(name, (before) => Promise.resolve({ keep: afterFailure(before, at), result: undefined }));
}

/** What every counter of wrong passwords must do. */
export function describeAttemptStore(name: string, make: MakeIdentity): void {
  describe(`attempt store: ${name}`, () => {
    const stores = useIdentity(make);

    it('keeps what a try leaves, by name, whoever has that name or nobody', async () => {
      await fail(stores(), 'nobody');
      await fail(stores(), 'nobody');
      expect(await stores().attempts.of('nobody')).toEqual({ failures: 2, lastAt: MADE.at });
      expect(await stores().attempts.of('Nobody')).toBeUndefined();
      const result = await stores().attempts.inTurn('nobody', () =>
        Promise.resolve({ keep: undefined, result: 'well' }),
      );
      expect(result).toBe('well');
      expect(await stores().attempts.of('nobody')).toBeUndefined();
    });

    it('counts every one of those that come at once', async () => {
      await Promise.all(Array.from({ length: 12 }, () => fail(stores(), 'ann')));
      expect(await stores().attempts.of('ann')).toMatchObject({ failures: 12 });
    });

    it('keeps nothing of a try that breaks, and lets the next one in', async () => {
      await fail(stores(), 'ann');
      const broken = stores().attempts.inTurn('ann', () => Promise.reject(new Error('broken')));
      await expect(broken).rejects.toThrow('broken');
      expect(await stores().attempts.of('ann')).toMatchObject({ failures: 1 });
      await fail(stores(), 'ann');
      expect(await stores().attempts.of('ann')).toMatchObject({ failures: 2 });
    });
  });
}

import { hasOwnLedger } from './has-own-ledger.js';

it('A device has a ledger of its own from its first entry on', () => {
  expect(hasOwnLedger({ headHash: '0'.repeat(64) })).toBe(false);
  expect(hasOwnLedger({ headHash: `00ab${'0'.repeat(60)}` })).toBe(true);
});

import { AuditPerson } from '../audits/audit-source.js';
import { PersonNames } from '../ports/person-names.js';
import { withNames } from './with-names.js';

const ANN = 'a1'.repeat(32);
const BOB = '7f3a9c2e'.repeat(8);

/** Knows Ann, and Bob whose name was erased. */
class TwoNames implements PersonNames {
  asked: readonly string[] | undefined;

  opened(commitments: readonly string[]): Promise<readonly AuditPerson[]> {
    this.asked = commitments;
    const known: readonly AuditPerson[] = [
      { commitment: ANN, name: 'ann', printedName: 'Ann Miller', salt: '00' },
      { commitment: BOB, name: 'bob', printedName: null, salt: null },
    ];
    return Promise.resolve(known.filter(({ commitment }) => commitments.includes(commitment)));
  }
}

const signature = (named: string) => ({ by: 'x', named, at: 't', meaning: 'm', contentHash: 'ab' });

describe('names in answers', () => {
  it('stand in every signature, and for a name that was erased its pseudonym', async () => {
    const answer = {
      items: [{ release: { signature: signature(ANN) }, dispositions: [{ signature: signature(BOB) }] }],
    };
    expect(await withNames(new TwoNames(), answer)).toEqual({
      items: [
        {
          release: { signature: { ...signature(ANN), printedName: 'Ann Miller' } },
          dispositions: [{ signature: { ...signature(BOB), printedName: 'erased-7f3a9c2e', erased: true } }],
        },
      ],
    });
  });

  it('stand beside an entry of a ledger, never within what it is the hash of', async () => {
    const entry = { seq: 1, prevHash: '0', hash: '1', data: { note: 'n', signature: signature(ANN) }, effects: [] };
    const unsigned = { seq: 2, prevHash: '1', hash: '2', data: { note: 'n' }, effects: [] };
    const [first, second] = await withNames(new TwoNames(), [entry, unsigned]);
    expect(first).toEqual({ ...entry, signer: { named: ANN, printedName: 'Ann Miller' } });
    expect(second).toEqual(unsigned);
  });

  it('leave what was signed as it was signed', async () => {
    const signed = { act: 'contain', by: 'ann', named: ANN, meaning: 'm', at: 't' };
    expect(await withNames(new TwoNames(), { rounds: [{ signed, signature: signature(ANN) }] })).toEqual({
      rounds: [{ signed, signature: { ...signature(ANN), printedName: 'Ann Miller' } }],
    });
  });

  it('leave alone a signature that has its name already, and ask for nothing then', async () => {
    const names = new TwoNames();
    const old = { signature: { by: 'ann', printedName: 'Ann M.', at: 't', meaning: 'm', contentHash: 'ab' } };
    expect(await withNames(names, old)).toBe(old);
    expect(names.asked).toBeUndefined();
  });
});

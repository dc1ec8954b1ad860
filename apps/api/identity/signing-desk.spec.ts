import { seal } from '../../../libs/evidence/seal.js';
import { hashPassword } from '../../../libs/ledger/identity/password-hash.js';
import { Principal } from '../../../libs/ledger/identity/principal.js';
import { memoryIdentity } from '../../../libs/ledger/memory/memory-identity.js';
import { problem } from '../spec-support/matchers.js';
import { PasswordDesk } from './password-desk.js';
import { SignatureBody } from './signature-body.js';
import { SigningDesk } from './signing-desk.js';

const ANN: Principal = { name: 'ann', via: 'session', roles: ['quality'] };
const PASSWORD = 'the long word of ann';
const NOW = '2030-01-07T08:00:00.000Z';

async function desk() {
  const identity = memoryIdentity();
  const account = {
    printedName: 'Ann Miller',
    roles: ['quality', 'approver'] as const,
    customer: null,
    disabled: false,
  };
  await identity.people.add('ann', account, await hashPassword(PASSWORD), { by: 'admin', at: NOW });
  const deps = { identity, clock: { now: () => NOW }, intake: { seal } };
  const passwords = new PasswordDesk(deps);
  const signing = new SigningDesk(passwords);
  return {
    signIn: (password: string, name = 'ann'): Promise<unknown> =>
      passwords.signIn({ name, password }).catch(documentOf),
    sign: (caller: Principal, password: string): Promise<unknown> =>
      signing.signer(caller, Object.assign(new SignatureBody(), { password, meaning: 'checked' })).catch(documentOf),
  };
}

function documentOf(error: unknown): unknown {
  return error instanceof Error && 'document' in error ? error.document : error;
}

describe('the signing desk', () => {
  it('makes a signer of a person who gives the password again, as the account says now', async () => {
    const { sign } = await desk();
    expect(await sign(ANN, PASSWORD)).toEqual({
      ...{
        name: 'ann',
        named: expect.stringMatching(/^[0-9a-f]{64}$/) as string,
        roles: ['quality', 'approver'],
        meaning: 'checked',
      },
    });
  });

  it('lets no key sign, not even that of an admin', async () => {
    const { sign } = await desk();
    expect(await sign({ name: 'ann', via: 'key', roles: ['admin'] }, PASSWORD)).toEqual(
      problem('signature-required', 403),
    );
  });

  it('counts wrong passwords like those at the door', async () => {
    const { sign } = await desk();
    for (let time = 0; time < 5; time += 1) {
      expect(await sign(ANN, 'not the long word')).toEqual(problem('wrong-password', 403));
    }
    expect(await sign(ANN, PASSWORD)).toEqual(problem('too-many-attempts', 429));
  });

  it('is kept from nobody by strangers who guess at the door, or crowd there', async () => {
    const { sign, signIn } = await desk();
    for (let time = 0; time < 5; time += 1) expect(await signIn('a guess')).toEqual(problem('sign-in-failed', 401));
    expect(await signIn(PASSWORD)).toEqual(problem('too-many-attempts', 429));
    expect(await sign(ANN, PASSWORD)).toMatchObject({ name: 'ann' });
    const crowd = Array.from({ length: 50 }, (_, n) => signIn('a guess', `nobody-${String(n)}`));
    expect(await sign(ANN, PASSWORD)).toMatchObject({ name: 'ann' });
    expect(await Promise.all(crowd)).toContainEqual(problem('unavailable', 503));
  });
});

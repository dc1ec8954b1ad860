import { hashPassword, isPassword, NOBODYS_HASH } from './password-hash.js';

describe('a password hash', () => {
  it('is argon2id at the cost that OWASP names, with a salt of its own', async () => {
    const [one, other] = await Promise.all([hashPassword('twelve letters'), hashPassword('twelve letters')]);
    expect(one).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$[\w+/]{22}\$[\w+/]{43}$/);
    expect(one).not.toBe(other);
  });

  it('knows its password and no other', async () => {
    const hash = await hashPassword('twelve letters');
    expect(await isPassword('twelve letters', hash)).toBe(true);
    for (const wrong of ['twelve letter', 'Twelve letters', 'twelve letters ', ''])
      expect(await isPassword(wrong, hash)).toBe(false);
  });

  it('takes letters for the same however a keyboard composes them', async () => {
    expect(await isPassword('Lo\u0308tkolben im Regal', await hashPassword('L\u00f6tkolben im Regal'))).toBe(true);
  });

  it('fits nobody where it is that of nobody, at the same cost as any', async () => {
    expect(NOBODYS_HASH).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
    for (const password of ['', 'A', 'A'.repeat(32)]) expect(await isPassword(password, NOBODYS_HASH)).toBe(false);
  });
});

import { newPassword } from './new-password.js';
import { passwordFault } from './password-rule.js';

describe('a new password', () => {
  it.each(['short word', 'elevenchars', ''])('has at least 12 characters, not %p', (password) => {
    expect(passwordFault(password, 'ann')).toBe('must have 12 to 256 characters');
  });

  it('has at most 256 characters, counted as people count them', () => {
    expect(passwordFault('a'.repeat(257), 'ann')).toBe('must have 12 to 256 characters');
    expect(passwordFault('🔥πλάξ🔧'.repeat(42) + 'ende', 'ann')).toBeUndefined();
    expect(passwordFault('🔥'.repeat(6), 'ann')).toBe('must have 12 to 256 characters');
  });

  it('is not the name of the account, in whatever case', () => {
    expect(passwordFault('Ann.Of.The.Bench', 'ann.of.the.bench')).toBe('must not be the name of the account');
  });

  it.each(['correct horse battery', 'all small letters', '58203947162840'])(
    'may be %p, whatever characters it is of',
    (password) => {
      expect(passwordFault(password, 'ann')).toBeUndefined();
    },
  );

  it.each(['aaaaaaaaaaaa', '123456789012', 'Heatbook 2026'])('is not %p, which is guessed first', (password) => {
    expect(passwordFault(password, 'ann')).toMatch(/^must not be made of common words/);
  });

  it('that is made for somebody is fit, readable, and another one each time', () => {
    const made = Array.from({ length: 50 }, newPassword);
    for (const password of made) {
      expect(password).toMatch(/^([a-hjkmnp-z2-9]{4}-){6}[a-hjkmnp-z2-9]{4}$/);
      expect(passwordFault(password, 'admin')).toBeUndefined();
    }
    expect(new Set(made).size).toBe(50);
  });
});

import { accountFault } from './account.js';
import { Role } from './principal.js';

describe('the roles of an account', () => {
  it.each<[Role[], string | null]>([
    [['operator'], null],
    [['quality', 'approver', 'admin'], null],
    [['customer'], 'Thimblewick'],
  ])('may be %p of %p', (roles, customer) => {
    expect(accountFault({ roles, customer })).toBeUndefined();
  });

  it.each<[Role[], string | null, string]>([
    [[], null, 'roles'],
    [['quality', 'quality'], null, 'roles'],
    [['station'], null, 'roles'],
    [['customer', 'quality'], 'Thimblewick', 'roles'],
    [['customer'], null, 'customer'],
    [['quality'], 'Thimblewick', 'customer'],
  ])('may not be %p of %p: %s is at fault', (roles, customer, field) => {
    expect(accountFault({ roles, customer })).toMatchObject({ field });
  });
});

import type { Schemas } from '../api/client.js';
import { Field } from '../kit/field.js';
import type { Role } from '../session/session-gate.js';

/** What an account says besides its name and password. */
export type Account = Schemas['PersonBody'];

/** Roles, and what they mean. */
const ROLES: readonly (readonly [Role, string])[] = [
  ['operator', 'operator: reads, asks for clearance'],
  ['quality', 'quality: works holds, enters setup, signs first'],
  ['approver', 'approver: signs second, signs concessions'],
  ['auditor', 'auditor: reads everything, changes nothing'],
  ['admin', 'admin: accounts, keys, setup; signs nothing about boards'],
  ['customer', 'customer: reads what is theirs; stands alone'],
];

interface AccountFieldsProps {
  readonly account: Account;
  readonly onAccount: (account: Account) => void;
}

export function AccountFields({ account, onAccount }: AccountFieldsProps) {
  const { printedName, roles, customer, disabled = false } = account;
  const setRole = (role: Role, has: boolean) => {
    const others = roles.filter((one) => one !== role);
    onAccount({ ...account, roles: has ? [...others, role] : others });
  };
  return (
    <>
      <Field label="Printed name" hint="It stands beside what the person signs, and can be erased later.">
        <input
          required
          maxLength={200}
          value={printedName}
          onChange={(event) => {
            onAccount({ ...account, printedName: event.target.value });
          }}
        />
      </Field>
      <fieldset className="account-roles">
        <legend>Roles</legend>
        {ROLES.map(([role, meaning]) => (
          <label key={role}>
            <input
              type="checkbox"
              checked={roles.includes(role)}
              onChange={(event) => {
                setRole(role, event.target.checked);
              }}
            />
            {meaning}
          </label>
        ))}
      </fieldset>
      {roles.includes('customer') && (
        <Field label="Customer" hint="As assemblies name them.">
          <input
            required
            maxLength={200}
            value={customer ?? ''}
            onChange={(event) => {
              onAccount({ ...account, customer: event.target.value });
            }}
          />
        </Field>
      )}
      <fieldset className="account-roles">
        <legend>Way in</legend>
        <label>
          <input
            type="checkbox"
            checked={disabled}
            onChange={(event) => {
              onAccount({ ...account, disabled: event.target.checked });
            }}
          />
          disabled: nobody comes in by it
        </label>
      </fieldset>
    </>
  );
}

/** The account as the API takes it: a customer belongs to that role alone. */
export function accountBody({ printedName, roles, customer, disabled = false }: Account): Account {
  return { printedName, roles, disabled, ...(roles.includes('customer') && customer !== undefined && { customer }) };
}

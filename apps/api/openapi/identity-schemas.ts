import { PERSON_ROLES } from '../../../libs/ledger/identity/account.js';
import { count, flag, list, oneOf, record, Schema, text, time } from './schema-parts.js';

const roles = list(oneOf(...PERSON_ROLES));
const account = { printedName: text, roles, 'customer?': text, disabled: flag };

/** What the routes of people and sessions answer with. */
export const IDENTITY_SCHEMAS: Record<string, Schema> = {
  Person: record({ name: text, ...account, revision: count, createdAt: time, changedAt: time }),
  PersonChange: record(
    {
      revision: count,
      what: oneOf('created', 'revised', 'password-changed'),
      by: text,
      at: time,
      account: record(account),
    },
    'The account as it was from then on. Nothing of a password is ever shown.',
  ),
  Session: record(
    { name: text, printedName: text, roles, 'customer?': text, csrfToken: text, expiresAt: time },
    'Send `csrfToken` as `X-CSRF-Token` with every request that changes something and carries the cookie.',
  ),
};

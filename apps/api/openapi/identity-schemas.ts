import { PERSON_ROLES } from '../../../libs/ledger/identity/account.js';
import { anything, count, flag, list, oneOf, record, ref, Schema, text, time } from './schema-parts.js';

const roles = list(oneOf(...PERSON_ROLES));
const account = { printedName: text, 'erased?': { const: true }, roles, 'customer?': text, disabled: flag };

/** What the routes of people and sessions answer with. */
export const IDENTITY_SCHEMAS: Record<string, Schema> = {
  Person: record({ name: text, ...account, revision: count, createdAt: time, changedAt: time }),
  PersonChange: record(
    {
      revision: count,
      what: oneOf('created', 'revised', 'password-changed', 'erased'),
      by: text,
      at: time,
      account: record(account),
      'act?': record({ note: text, signed: anything, signature: ref('Signature') }),
    },
    'The account as it was from then on. Nothing of a password is ever shown.',
  ),
  Erasure: record(
    { person: ref('Person'), signedInClear: count },
    '`signedInClear` counts ledger entries from before there were commitments: the name in them cannot be erased.',
  ),
  Session: record(
    { name: text, printedName: text, roles, 'customer?': text, csrfToken: text, expiresAt: time },
    'Send `csrfToken` as `X-CSRF-Token` with every request that changes something and carries the cookie.',
  ),
};

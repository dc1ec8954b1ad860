import { Role } from '../../libs/ledger/identity/principal.js';
import { ALDER, BIRCH } from './two-customers.js';
import { HouseCalls } from './running-house.js';
import { SHOP } from './small-shop.js';

/** Who asks, in the matrix of access. Each person has one role; the station's other is a station that the row is not about. */
export const CALLERS = [
  ...['nobody', 'bad-key', 'ended-session', 'station', 'other-station'],
  ...['operator', 'quality', 'approver', 'auditor', 'admin', 'admin-key', 'customer', 'other-customer'],
] as const;
export type CallerName =
  | 'nobody'
  | 'bad-key'
  | 'ended-session'
  | 'station'
  | 'other-station'
  | 'admin-key'
  | 'other-customer'
  | Exclude<Role, 'station'>;

/** The role that a caller comes with; none for one whom nobody let in. */
export const ROLE_OF: Readonly<Record<CallerName, Role | null>> = {
  nobody: null,
  'bad-key': null,
  'ended-session': null,
  station: 'station',
  'other-station': 'station',
  operator: 'operator',
  quality: 'quality',
  approver: 'approver',
  auditor: 'auditor',
  admin: 'admin',
  'admin-key': 'admin',
  customer: 'customer',
  'other-customer': 'customer',
};

/** What a caller sends along to say who they are. */
export type Credentials = Readonly<Record<string, string>>;

const OTHER_BENCH = 'BENCH-2';

/** Gives every caller of the matrix an account and a session, or a key. */
export async function letIn(house: HouseCalls): Promise<Readonly<Record<CallerName, Credentials>>> {
  await house.call('PUT', `/v1/stations/${OTHER_BENCH}`, { kind: 'hot-gas rework' });
  const keyOf = async (station: string): Promise<Credentials> => {
    const { body } = await house.call('POST', `/v1/stations/${station}/keys`);
    return { authorization: `Bearer ${String(body['key'])}` };
  };
  const signIn = async (name: string, role: Role, customer?: string): Promise<Credentials> => {
    const person = await house.person(name, [role], customer);
    const { status, headers, body } = await house.call(
      'POST',
      '/v1/session',
      { name, password: person.password },
      { key: null },
    );
    if (status !== 200) throw new Error(`${name} cannot sign in`);
    const [cookie = ''] = (headers.get('set-cookie') ?? '').split(';');
    return { cookie, 'x-csrf-token': String(body['csrfToken']) };
  };
  const ended = await signIn('m-ended', 'admin');
  await fetch(`${house.url}/v1/session`, { method: 'DELETE', headers: ended });
  return {
    nobody: {},
    'bad-key': { authorization: 'Bearer hbk_of-nobody' },
    'ended-session': ended,
    station: await keyOf(SHOP.bench),
    'other-station': await keyOf(OTHER_BENCH),
    operator: await signIn('m-operator', 'operator'),
    quality: await signIn('m-quality', 'quality'),
    approver: await signIn('m-approver', 'approver'),
    auditor: await signIn('m-auditor', 'auditor'),
    admin: await signIn('m-admin', 'admin'),
    'admin-key': { authorization: `Bearer ${house.adminKey}` },
    customer: await signIn('m-customer', 'customer', ALDER.customer),
    'other-customer': await signIn('m-other-customer', 'customer', BIRCH.customer),
  };
}

import { HouseCalls } from '../support/running-house.js';
import { letIn, ROLE_OF, CallerName } from '../support/access-callers.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';
import { SHOP } from '../support/small-shop.js';
import { FuzzCaller } from './make-request.js';
import { KnownNames } from './valid-value.js';

/** What the fuzz asks about, and who asks. */
export interface FuzzShop {
  readonly names: KnownNames;
  readonly callers: readonly FuzzCaller[];
}

const TRACE = 'FUZZ-TRACE';

/** Works on a board of each of two customers, lets every kind of caller in, and says what is where. */
export async function enterFuzzShop(shop: HouseCalls): Promise<FuzzShop> {
  const { holds } = await enterTwoCustomers(shop);
  const callers = await letIn(shop);
  await shop.person('fuzzed', ['operator']);
  await shop.call('PUT', `/v1/traces/${TRACE}`, 's,T1\n0,25\n60,180\n90,240\n120,100\n', { type: 'text/csv' });
  const source = `/stations/${SHOP.bench}`;
  return {
    names: {
      assembly: [ALDER.assembly, ALDER.assembly, ALDER.assembly, BIRCH.assembly, BIRCH.assembly, 'NEW-BOARD'],
      serial: [ALDER.serial, ALDER.serial, BIRCH.serial, BIRCH.serial, 'F-1', 'F-2'],
      subject: [
        `${ALDER.assembly}/${ALDER.serial}`,
        ...['F-1', 'F-2', 'F-3'].map((one) => `${ALDER.assembly}/${one}`),
        `devices/${ALDER.device}`,
        `stations/${SHOP.bench}`,
      ],
      id: [holds.alder, ...[1, 4, 7].map((number) => `${ALDER.serial}-${String(number)}`)],
      ...{ hold: [holds.alder], holds: [holds.alder, holds.birch], refdes: ['U7', 'U8', 'U9'], site: ['U7'] },
      ...{ device: [ALDER.device, BIRCH.device, 'F-D1'], part: [SHOP.part, SHOP.neighbour, 'NEW-PART'] },
      ...{ station: [SHOP.bench, 'BENCH-2'], operator: ['ann'], profile: [SHOP.profile], revision: ['A', 'B'] },
      ...{
        limit: ['device-excursions', 'site-reworks'],
        kind: ['device-excursions', 'unit'],
        alloy: ['SAC305', 'SN63'],
        name: ['fuzzed', SHOP.profile],
      },
      ...{
        trace: [TRACE, 'NEW-TRACE'],
        keyId: ['none'],
        day: ['2026-11-25', '2026-04-01'],
        path: ['holds', 'index.html'],
        assignee: ['fuzzed', 'm-quality'],
      },
      ...{
        customer: [ALDER.customer, BIRCH.customer],
        solderAlloy: ['SAC305'],
        jointAlloy: ['SAC305'],
        ballAlloy: ['SAC305'],
        pasteAlloy: ['SAC305'],
      },
      ...{ source: [source], specversion: ['1.0'], q: [ALDER.serial, ALDER.assembly] },
    },
    callers: Object.entries(callers).map(([name, headers]) => ({
      role: ROLE_OF[name as CallerName],
      headers,
      ...('cookie' in headers && { password: `the password of m-${name}` }),
    })),
  };
}

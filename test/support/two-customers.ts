import { HouseCalls } from './running-house.js';
import { dressed, enterShop, events, ordinaryJob, placed, received, removed, Said, SHOP } from './small-shop.js';

/** Two customers with a board each of the same design, and what each is called. */
export const ALDER = { customer: 'Thimblewick', assembly: SHOP.assembly, serial: 'A-SERIAL', device: 'A-DEVICE' };
export const BIRCH = { customer: 'Quillfeather', assembly: 'OTHER-BOARD', serial: 'B-SERIAL', device: 'B-DEVICE' };

export interface TwoCustomers {
  /** Id of a hold on each one's board. */
  readonly holds: { readonly alder: string; readonly birch: string };
}

/** Works on a board of each customer and puts a hold by hand on both. */
export async function enterTwoCustomers(house: HouseCalls): Promise<TwoCustomers> {
  await enterShop(house);
  const { body: design } = await house.call('GET', `/v1/assemblies/${ALDER.assembly}`);
  const { description, leadFree, assemblyReflows, sites } = design;
  const other = { customer: BIRCH.customer, description, leadFree, assemblyReflows, sites };
  await must(house, 'PUT', `/v1/assemblies/${BIRCH.assembly}`, other, 201);
  await house.post(events(ALDER.serial, ordinaryJob(ALDER.device)));
  await house.post(onBirch(ordinaryJob(BIRCH.device)));
  const holds = await Promise.all(
    [ALDER, BIRCH].map(async ({ assembly, serial }) => {
      const { body } = await must(house, 'POST', '/v1/holds', { assembly, serial, note: 'to be looked at' }, 201);
      return String(body['id']);
    }),
  );
  const [alder = '', birch = ''] = holds;
  return { holds: { alder, birch } };
}

/** The first customer's device is posted on the second one's board, though nobody took it off the first. */
export async function misplaceDevice(house: HouseCalls): Promise<void> {
  const later = [received(), removed(), dressed(), placed(ALDER.device)].map((said, n) => ({
    ...said,
    id: `misplaced-${String(n)}`,
    minute: 600 + n,
  }));
  await house.post(onBirch(later));
}

function onBirch(said: readonly Said[]): object[] {
  const subject = `${BIRCH.assembly}/${BIRCH.serial}`;
  return events(
    BIRCH.serial,
    said.map((one) => ({ ...one, subject: one.subject ?? subject })),
  );
}

async function must(house: HouseCalls, method: string, path: string, body: object, expected: number) {
  const answer = await house.call(method, path, body);
  if (answer.status === expected) return answer;
  throw new Error(`${method} ${path} answered ${String(answer.status)}: ${JSON.stringify(answer.body)}`);
}

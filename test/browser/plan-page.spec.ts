import type { Page } from 'playwright-core';
import { type DeskBrowser, deskBrowser, FIRST_DESK_MS, type OpenDesk } from '../support/desk-browser.js';
import { type RunningHouse, runningHouse } from '../support/running-house.js';
import { deviceIn, enterShop, events, ordinaryJob, received, SHOP } from '../support/small-shop.js';
import type { SignedInPerson } from '../support/signed-in-person.js';

const TEST_MS = 45_000;

let house: RunningHouse;
let desks: DeskBrowser;
let quality: SignedInPerson;
const opened: OpenDesk[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  const baked = ordinaryJob('D-0').slice(0, 2);
  await house.post(events('0117', [...baked, deviceIn('N-117')]));
  // All its reworks were done elsewhere.
  await house.post(events('0118', [received({ sites: [{ refdes: 'U7', priorReworks: 3 }] }), ...baked.slice(1)]));
  quality = await house.person('q-1', ['quality']);
  desks = await deskBrowser(house);
}, FIRST_DESK_MS);

afterEach(async () => {
  await Promise.all(opened.splice(0).map((desk) => desk.close()));
});

afterAll(async () => {
  await desks.close();
  await house.close();
});

async function open(person: SignedInPerson, path: string): Promise<OpenDesk> {
  const desk = await desks.open(person, path);
  opened.push(desk);
  return desk;
}

async function askForClearance(page: Page): Promise<void> {
  await page.getByLabel('Operator').selectOption('ann');
  await page.getByLabel('Station').selectOption(SHOP.bench);
  await page.getByRole('button', { name: 'Ask for clearance' }).click();
}

async function clearances(
  serial: string,
): Promise<readonly { readonly id: string; readonly steps: readonly object[] }[]> {
  const { body } = await house.call('GET', `/v1/clearances?assembly=${SHOP.assembly}&serial=${serial}&state=granted`);
  return body['items'] as readonly { readonly id: string; readonly steps: readonly object[] }[];
}

describe('A method plan', () => {
  it(
    'goes from a scan to a clearance, which is given back again',
    async () => {
      const { page, violations, complaints } = await open(quality, '/plan');
      await page.getByLabel('Unit', { exact: true }).fill('0117');
      await page.keyboard.press('Enter');
      await page.getByRole('radio', { name: /^U7/ }).check();
      await page.getByLabel(/^Which one/).fill('N-117');
      await page.keyboard.press('Enter');

      const table = page.getByRole('table').filter({ has: page.getByRole('columnheader', { name: /Vacuum nozzle/ }) });
      const first = table.getByRole('columnheader', { name: /spends least/ });
      await first.getByText('fits').waitFor();
      expect(await first.count()).toBe(1);
      // The device is new, so its own tally stands beside what the route adds.
      await table
        .getByRole('row', { name: /^Excursions of the new device/ })
        .getByText('0 used, 1 with this')
        .waitFor();
      await table
        .getByRole('row', { name: /^Neighbours/ })
        .getByText('3 mm away')
        .first()
        .waitFor();

      await page.getByRole('button', { name: 'Go by vacuum' }).click();
      await page.getByRole('region', { name: 'The route with vacuum nozzle' }).getByText(/N-117/).waitFor();
      expect(await violations()).toEqual([]);
      await askForClearance(page);
      await page.getByText(`to ann at ${SHOP.bench}`, { exact: false }).waitFor();
      const [granted] = await clearances('0117');
      expect(granted?.steps).toHaveLength(3);
      await page
        .getByRole('strong')
        .getByText(granted?.id ?? 'no clearance')
        .waitFor();
      // The plan that follows stands upon what is reserved now.
      await table
        .getByRole('row', { name: /^Reworks of U7/ })
        .getByText('1 reserved before')
        .waitFor();
      expect(await violations()).toEqual([]);

      const now = page.getByRole('region', { name: /^Cleared now/ });
      await now.getByRole('button', { name: /^Give back/ }).click();
      await now.getByText('no station holds a clearance').waitFor();
      expect(await clearances('0117')).toEqual([]);
      expect(complaints).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'that does not fit says what the customer would have to allow, and is refused with the figures and the way out',
    async () => {
      const path = `/plan?assembly=${SHOP.assembly}&serial=0118&refdes=U7`;
      const { page, violations, complaints } = await open(quality, path);
      await page.getByRole('heading', { name: 'None fits' }).waitFor();
      await page.getByText('4 instead of the 3 allowed').waitFor();
      expect(await page.getByText('spends least', { exact: true }).count()).toBe(0);
      await askForClearance(page);
      const refused = page.getByRole('alert').filter({ hasText: 'refused' });
      await refused.getByText('Site: too many reworks').waitFor();
      await refused.getByRole('img', { name: '3 used, 1 reserved, 1 over the 3 allowed' }).waitFor();
      await refused
        .getByText(/^Way out:/)
        .first()
        .waitFor();
      expect(await violations()).toEqual([]);
      // The browser itself notes that the service refused.
      expect(complaints.filter((line) => !line.includes('409'))).toEqual([]);
      expect(await clearances('0118')).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'is refused while the unit is held, and leads to the hold',
    async () => {
      await house.post(events('0119', ordinaryJob('D-0').slice(0, 2)));
      const raised = await house.call('POST', '/v1/holds', {
        assembly: SHOP.assembly,
        serial: '0119',
        note: 'dropped',
      });
      const { page } = await open(quality, `/plan?assembly=${SHOP.assembly}&serial=0119&refdes=U7`);
      await page.getByText('A hold is open on').waitFor();
      await askForClearance(page);
      await page.getByRole('alert').getByRole('link', { name: 'See the hold' }).click();
      await page.waitForURL((url) => url.pathname.endsWith(String(raised.body['id'])));
    },
    TEST_MS,
  );

  it(
    'stands in cards on a tablet, and is read by who may not ask',
    async () => {
      const auditor = await house.person('au-1', ['auditor']);
      const path = `/plan?assembly=${SHOP.assembly}&serial=0117&refdes=U7&goal=reuse-device`;
      const desk = await desks.open(auditor, path, { viewport: { width: 834, height: 1112 } });
      opened.push(desk);
      const { page, violations, complaints } = desk;
      await page.getByRole('article', { name: 'Solder fountain' }).waitFor();
      await page.getByText('your role reads').waitFor();
      expect(await page.getByRole('button', { name: 'Ask for clearance' }).count()).toBe(0);
      expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
      expect(await violations()).toEqual([]);
      expect(complaints).toEqual([]);
    },
    TEST_MS,
  );
});

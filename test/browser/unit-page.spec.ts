import type { Locator, Page } from 'playwright-core';
import { DeskBrowser, deskBrowser, FIRST_DESK_MS, OpenDesk } from '../support/desk-browser.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { events, heat, ordinaryJob, Said, SHOP } from '../support/small-shop.js';
import { ALDER, BIRCH, enterTwoCustomers } from '../support/two-customers.js';

const SERIAL = '0117';
const UNIT = `/units/${SHOP.assembly}/${SERIAL}`;
const TEST_MS = 40_000;

/** The bench heats U7 once more, after everything else: its solder melts. */
const HEATED: Said = {
  type: 'heatbook.site.heated.v1',
  id: 'again',
  minute: 300,
  data: { refdes: 'U7', purpose: 'touch-up', heat: heat({ position: 'body', peakC: 240 }), operator: 'ann' },
};

let house: RunningHouse;
let desks: DeskBrowser;
let quality: SignedInPerson;
let customer: SignedInPerson;
let desk: OpenDesk;

beforeAll(async () => {
  house = await runningHouse();
  await enterTwoCustomers(house);
  await house.post(events(SERIAL, ordinaryJob('D-117').slice(0, -1)));
  quality = await house.person('q-1', ['quality']);
  customer = await house.person('c-1', ['customer'], ALDER.customer);
  desks = await deskBrowser(house);
}, FIRST_DESK_MS);

afterEach(() => desk.close());

afterAll(async () => {
  await desks.close();
  await house.close();
});

async function open(path: string, person = quality): Promise<Page> {
  desk = await desks.open(person, path);
  return desk.page;
}

/** The row of a site in the table of the unit's page. */
function row(page: Page, refdes: string): Locator {
  return page.getByRole('region', { name: 'Table of sites' }).locator('tbody', {
    has: page.getByRole('rowheader', { name: new RegExp(`^${refdes}\\b`) }),
  });
}

/** Once everything has been fetched, what is shown is in order. */
async function nothingWrong(): Promise<void> {
  await desk.page
    .getByText(/^Fetching /)
    .first()
    .waitFor({ state: 'hidden' });
  expect(await desk.violations()).toEqual([]);
  expect(desk.complaints).toEqual([]);
}

describe('The page of a unit', () => {
  it(
    'is found in the list, which its address keeps narrowed down, and says what heat a device has left and why',
    async () => {
      const page = await open('/units');
      await page.getByRole('link', { name: `${BIRCH.assembly} / ${BIRCH.serial}` }).waitFor();
      await page.getByLabel('Serial', { exact: true }).fill(SERIAL);
      await page.getByRole('button', { name: 'Narrow down' }).click();
      await page.getByText('1 in all').waitFor();
      expect(new URL(page.url()).search).toBe(`?serial=${SERIAL}`);
      await nothingWrong();

      await page.getByRole('link', { name: `${SHOP.assembly} / ${SERIAL}` }).click();
      await page.getByRole('heading', { level: 1, name: `${SHOP.assembly} / ${SERIAL}` }).waitFor();
      await row(page, 'U7').getByText('2 of 3 left').first().waitFor();
      await row(page, 'U8').getByText('label not read').waitFor();
      const explain = page.getByRole('button', { name: 'Explain the figures of U7' });
      await explain.press('Enter');
      await row(page, 'U7').getByText('0 before it came, declared; 1 measured').waitFor();
      await row(page, 'U7')
        .getByText(/joint thermocouple T1 peaked at 236/)
        .waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'shows by itself what a heat has spent that a station posts meanwhile',
    async () => {
      const page = await open(UNIT);
      await page.getByText('Live', { exact: true }).waitFor();
      await row(page, 'U7').getByText('2 of 3 left').first().waitFor();
      await house.post(events(SERIAL, [HEATED]));
      await row(page, 'U7').getByRole('img', { name: '2 used, 1 left of 3' }).waitFor();
      expect(desk.complaints).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'has a map that leads by keyboard to the row of a site, and tells how far its neighbours are',
    async () => {
      const page = await open(UNIT);
      const top = page.getByRole('group', { name: 'Sites on the top' });
      const bottom = page.getByRole('group', { name: 'Sites on the bottom' });
      await bottom.getByRole('link', { name: /^U9, / }).waitFor();
      await top.getByRole('link', { name: /^U7, D-117/ }).focus();
      await page.getByText(/^3 mm: U8,/).waitFor();
      await page.getByText(/^3 mm, on the other side: U9,/).waitFor();
      await top.getByRole('link', { name: /^U8, / }).press('Enter');
      await page.waitForURL('**?part=sites&site=U8');
      expect(await row(page, 'U8').getAttribute('aria-current')).toBe('true');
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'says of every part what there is, under an address of its own',
    async () => {
      const page = await open(`${UNIT}?part=budgets`);
      const budget = page.locator('summary', { hasText: 'Reworks of the site' }).first();
      await budget.press('Enter');
      await page.locator('details[open]').getByText('0 before it came, declared; 1 as the station told it').waitFor();
      await nothingWrong();
      await page.getByRole('link', { name: 'Moisture', exact: true }).click();
      await page.waitForURL('**?part=moisture');
      await page.getByRole('region', { name: 'Devices on it' }).getByText('a sealed dry pack').waitFor();
      await nothingWrong();
      for (const part of ['Route', 'Heats', 'Ledger']) {
        await page.getByRole('link', { name: part, exact: true }).click();
        await page.getByRole('region', { name: part, exact: true }).first().waitFor();
      }
      expect(desk.complaints).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'hands out its history in four forms',
    async () => {
      const page = await open(`${UNIT}?part=downloads`);
      const links = page.getByRole('region', { name: 'Downloads' }).getByRole('listitem').getByRole('link');
      await links.first().waitFor();
      const types = [];
      for (const link of await links.all()) {
        const answer = await desk.context.request.get(`${desks.url}${(await link.getAttribute('href')) ?? ''}`);
        expect(answer.status()).toBe(200);
        types.push(answer.headers()['content-type']?.split(';')[0]);
      }
      expect(types).toEqual(['application/json', 'application/pdf', 'text/csv', 'application/ld+json']);
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'puts a site on hold by hand, and shows at once what stops it',
    async () => {
      const page = await open(UNIT);
      await page.getByRole('button', { name: 'Raise a hold' }).click();
      await page.getByLabel('What is held').selectOption('Site U8');
      await page.getByLabel('Why').fill('flux left under the body');
      expect(await desk.violations()).toEqual([]);
      await page.getByRole('button', { name: 'Raise the hold' }).click();
      const stops = page.getByRole('region', { name: 'Open holds' });
      await stops.getByText('flux left under the body').waitFor();
      await row(page, 'U8').getByText('held').waitFor();
      await page.getByRole('link', { name: /^U8, .*held$/ }).waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'shows a customer their own board without what is for the house, and nothing of another',
    async () => {
      const page = await open(`/units/${ALDER.assembly}/${ALDER.serial}`, customer);
      await row(page, 'U7').getByText(ALDER.device).waitFor();
      expect(await page.getByRole('link', { name: ALDER.device }).count()).toBe(0);
      expect(await page.getByRole('heading', { name: 'Where the sites are' }).count()).toBe(0);
      expect(await page.getByRole('button', { name: 'Raise a hold' }).count()).toBe(0);
      await page.getByText(/^your view/).waitFor();
      await nothingWrong();
      await desk.go(`/units/${BIRCH.assembly}/${BIRCH.serial}`);
      await page.getByRole('alert').getByText('There is no such record').waitFor();
      await desk.go('/units');
      await page.getByRole('link', { name: `${ALDER.assembly} / ${ALDER.serial}` }).waitFor();
      expect(await page.getByRole('link', { name: new RegExp(BIRCH.assembly) }).count()).toBe(0);
      expect(await desk.violations()).toEqual([]);
    },
    TEST_MS,
  );
});

describe('The page of a device', () => {
  it(
    'tells where it is and has been and what it has left',
    async () => {
      const page = await open('/devices/D-117');
      const trail = page.getByRole('region', { name: 'Where it is and has been' });
      await trail.getByText('placed:').waitFor();
      await trail
        .getByRole('listitem')
        .getByRole('link', { name: `${SHOP.assembly} / ${SERIAL}` })
        .waitFor();
      await page
        .getByRole('region', { name: 'Its excursions' })
        .getByText(/peaked at 236/)
        .waitFor();
      await page.getByRole('region', { name: 'Ledger', exact: true }).getByRole('article').first().waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'says why a device is called after a place',
    async () => {
      const page = await open(`/devices/${encodeURIComponent(`${SHOP.assembly}:${SERIAL}:U8`)}`);
      await page.getByText(/^Nobody has read the label/).waitFor();
      const place = page.getByRole('definition').getByRole('link', { name: `${SHOP.assembly} / ${SERIAL} · U8` });
      await place.waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );
});

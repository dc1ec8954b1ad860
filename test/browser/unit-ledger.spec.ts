import type { Locator, Page } from 'playwright-core';
import { DeskBrowser, deskBrowser, FIRST_DESK_MS, OpenDesk } from '../support/desk-browser.js';
import { lengthenLedger } from '../support/long-ledger.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { deviceIn, enterShop, events, heat, placed, received, removed, SHOP } from '../support/small-shop.js';
import { times, TRAPEZOID } from '../support/trace-samples.js';

const SERIAL = '5000';
/** What the bench posts comes first; then cleaning, again and again. */
const CLEANINGS = 5_000;
const ENTRIES = CLEANINGS + 3;
const TEST_MS = 45_000;

let house: RunningHouse;
let desks: DeskBrowser;
let quality: SignedInPerson;
let desk: OpenDesk;

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  const csv = ['s,T1', ...times(240, 1).map((s) => `${String(s)},${String(TRAPEZOID(s))}`)].join('\n');
  await house.call('PUT', '/v1/traces/LIFT-1', csv, { type: 'text/csv' });
  const lifted = { ...heat({ position: 'joint', peakC: 245 }), trace: 'LIFT-1' };
  await house.post(events(SERIAL, [received(), removed({ heat: lifted }), deviceIn('D-1'), placed('D-1')]));
  await lengthenLedger(house.house, { ...SHOP, serial: SERIAL }, CLEANINGS, 40);
  quality = await house.person('q-1', ['quality']);
  desks = await deskBrowser(house);
}, FIRST_DESK_MS);

afterEach(() => desk.close());

afterAll(async () => {
  await desks.close();
  await house.close();
});

/** Opens a part of the unit's page. */
async function open(part: string): Promise<Page> {
  desk = await desks.open(quality, `/units/${SHOP.assembly}/${SERIAL}?${part}`);
  return desk.page;
}

function entry(page: Page, seq: number): Locator {
  return page.getByRole('article', { name: `Entry ${String(seq)}`, exact: true });
}

async function nothingWrong(): Promise<void> {
  expect(await desk.violations()).toEqual([]);
  expect(desk.complaints).toEqual([]);
}

describe('The ledger of a unit with 5,000 entries', () => {
  it(
    'begins with the newest, and has the first at its end without having fetched what lies between',
    async () => {
      const asked: string[] = [];
      desk = await desks.open(quality, '/units');
      desk.page.on('request', (request) => asked.push(request.url()));
      await desk.go(`/units/${SHOP.assembly}/${SERIAL}?part=ledger`);
      const { page } = desk;
      await entry(page, ENTRIES).waitFor();
      await page.getByText(`${String(ENTRIES)} entries`, { exact: true }).waitFor();
      const list = page.getByRole('list', { name: 'Entries of the ledger' });
      expect(await list.getByRole('listitem').count()).toBeLessThan(60);
      await list.focus();
      await page.keyboard.press('End');
      await entry(page, 1).getByText('Received').waitFor();
      expect(asked.filter((url) => url.includes('from=')).length).toBeLessThan(6);
      await nothingWrong();
    },
    TEST_MS,
  );

  it(
    'goes straight to an entry by its number, opened, and says what numbers there are',
    async () => {
      const page = await open('part=ledger');
      const field = page.getByLabel('Go to entry');
      await field.fill('9999');
      await field.press('Enter');
      await page.getByText(`The ledger has entries 1 to ${String(ENTRIES)}.`).waitFor();
      await field.fill('2500');
      await field.press('Enter');
      await entry(page, 2500).getByText('Hash before').waitFor();
      expect(new URL(page.url()).searchParams.get('seq')).toBe('2500');
      expect(await entry(page, 2501).getByRole('button').getAttribute('aria-expanded')).toBe('false');
      await nothingWrong();
      await page.reload();
      await entry(page, 2500).getByText('Hash before').waitFor();
    },
    TEST_MS,
  );

  it(
    'shows only entries of one kind, and what one of them was judged to be',
    async () => {
      const page = await open('part=ledger');
      await page.getByLabel('Only').selectOption('Device removed');
      const kind = page.getByRole('list', { name: 'Entries of this kind' });
      await kind.waitFor();
      expect(await kind.getByRole('listitem').count()).toBe(1);
      await entry(page, 2).getByRole('button').press('Enter');
      await entry(page, 2)
        .getByText(/one excursion of the site counted, measured/)
        .waitFor();
      await page.getByLabel('Only').selectOption('Shipped');
      await page.getByText('The ledger has no entry of this kind.').waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );
});

describe('The heats of a unit', () => {
  it(
    'are drawn with the line that counts, and told in a table',
    async () => {
      const page = await open('part=heats');
      const figure = page.getByRole('figure', { name: /Temperature over time of entry 2/ });
      await figure.locator('canvas').waitFor();
      await figure.getByText('As a table').press('Enter');
      await figure.getByRole('columnheader', { name: 'Over counting line (212 °C), s' }).waitFor();
      // Up through 212 °C at 113.5 s and down through it at 168.25 s.
      const figures = await figure.getByRole('row').nth(1).getByRole('cell').allInnerTexts();
      expect(figures).toEqual(['245.0', '130', expect.stringMatching(/^54\.[78]$/), '51.0']);
      await figure.getByRole('button', { name: /T1 joint/ }).press('Enter');
      await figure.getByText('hidden', { exact: true }).waitFor();
      await nothingWrong();
    },
    TEST_MS,
  );
});

describe('The route of a unit', () => {
  it(
    'shows the latest steps, earlier ones when asked for, and leads from a step to its entry',
    async () => {
      const page = await open('part=route');
      const steps = page.getByRole('region', { name: 'Route from left to right' }).getByRole('link');
      await steps.first().waitFor();
      expect(await steps.count()).toBe(200);
      await page.getByRole('button', { name: 'Show earlier steps' }).click();
      await steps.nth(200).waitFor();
      expect(await steps.count()).toBe(400);
      await nothingWrong();
      await steps.last().press('Enter');
      await entry(page, ENTRIES).getByText('Hash before').waitFor();
    },
    TEST_MS,
  );
});

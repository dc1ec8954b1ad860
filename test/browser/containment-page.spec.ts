import type { Page } from 'playwright-core';
import { type DeskBrowser, deskBrowser, FIRST_DESK_MS, type OpenDesk } from '../support/desk-browser.js';
import { type RunningHouse, runningHouse } from '../support/running-house.js';
import { deviceIn, enterShop, events, ordinaryJob, received, removed, SHOP } from '../support/small-shop.js';
import type { SignedInPerson } from '../support/signed-in-person.js';

const TEST_MS = 45_000;
const DAY = { from: '2026-04-01T00:00:00Z', to: '2026-04-02T00:00:00Z' };
const LATE = '0309';

let house: RunningHouse;
let desks: DeskBrowser;
let quality: SignedInPerson;
const opened: OpenDesk[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  // One has left the house, one is on hold already, and a device came in that nobody has placed.
  await house.post(events('0301', ordinaryJob('D-301')));
  await house.post(events('0302', [received(), deviceIn('D-302')]));
  await house.call('POST', '/v1/holds', { assembly: SHOP.assembly, serial: '0302', note: 'dropped' });
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

async function sign(page: Page, field: string, why: string, password = quality.password): Promise<void> {
  await page.getByLabel(field).fill(why);
  await page.getByLabel('Your password, again').fill(password);
  await page.getByRole('button', { name: 'Sign and hold' }).click();
}

/** Holds of any containment that are open. */
async function heldByContainment(): Promise<number> {
  const { body } = await house.call('GET', '/v1/holds?state=open&reason=by-hand');
  const holds = body['items'] as readonly { readonly containment: string | null }[];
  return holds.filter(({ containment }) => containment !== null).length;
}

describe('A containment', () => {
  it(
    'is looked at, signed, watched to its end, and repeated for what came in late',
    async () => {
      const { page, violations, complaints } = await open(
        quality,
        `/containments?${new URLSearchParams({ station: SHOP.bench, ...DAY }).toString()}`,
      );
      // A link from elsewhere names the cause, and what it touched is there at once; nothing is held by looking.
      const touched = page.getByRole('region', { name: 'What it touched' });
      await touched.getByText('2 units and 1 loose device', { exact: true }).waitFor();
      await touched.getByText('1 shipped already').waitFor();
      await touched.getByText('All 3 are listed, 1 of them on hold already.').waitFor();
      await touched
        .getByRole('row', { name: /0301/ })
        .getByText(/^\d+ entries/)
        .click();
      await touched.getByText('Site dressed').waitFor();
      expect(await violations()).toEqual([]);
      expect(await heldByContainment()).toBe(0);

      await touched.getByRole('button', { name: 'Hold these 2 units and 1 loose device' }).click();
      expect(await violations()).toEqual([]);
      await sign(page, 'What happened', 'The thermocouple read low.', 'another password');
      await page.getByRole('dialog').getByRole('alert').waitFor();
      expect(await heldByContainment()).toBe(0);
      await sign(page, 'What happened', 'The thermocouple read low.');
      await page.getByText('done, 3 held').waitFor();
      await page.getByText('3 of 3 still held').waitFor();
      await page.getByText('nothing is missing').waitFor();
      expect(await heldByContainment()).toBe(3);
      expect(await violations()).toEqual([]);

      await house.post(events(LATE, [received(), removed()]));
      await page.getByRole('button', { name: 'Look again' }).click();
      await page.getByText('1 touched and not held').waitFor();
      await page.getByRole('button', { name: 'Hold it too' }).click();
      await sign(page, 'Why again', 'The bench had been offline.');
      await page.getByText('done, 4 held').waitFor();
      await page
        .getByRole('row', { name: new RegExp(LATE) })
        .getByText('held')
        .waitFor();
      expect(await heldByContainment()).toBe(4);
      expect(await violations()).toEqual([]);

      await page
        .getByRole('row', { name: new RegExp(LATE) })
        .getByRole('link', { name: 'its hold' })
        .click();
      await page.waitForURL(/\/holds\//);
      // The browser itself notes that a wrong password was refused.
      expect(complaints.filter((line) => !/401|403/.test(line))).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'that touched nothing, or is not one, says so and holds nothing',
    async () => {
      const { page, violations } = await open(quality, '/containments');
      await page.getByLabel('Suspect').selectOption('lot');
      await page.getByLabel('Its name').fill('NO-SUCH-LOT');
      await page.getByLabel('From').fill('2026-04-01T00:00');
      await page.getByLabel('Up to, without it').fill('2026-03-01T00:00');
      await page.getByRole('button', { name: 'See what it touched' }).click();
      await page.getByRole('alert').getByText('must be later than from').waitFor();
      await page.getByLabel('Up to, without it').fill('2026-04-02T00:00');
      await page.getByRole('button', { name: 'See what it touched' }).click();
      await page.getByText('It touched nothing in that time.').waitFor();
      expect(await page.getByRole('button', { name: /^Hold/ }).count()).toBe(0);
      expect(await violations()).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'is read by an approver, and is nothing to an operator',
    async () => {
      const approver = await house.person('a-1', ['approver']);
      const reading = await open(approver, '/containments');
      await reading.page
        .getByRole('link', { name: `station ${SHOP.bench}` })
        .first()
        .waitFor();
      expect(await reading.page.getByRole('button', { name: 'See what it touched' }).count()).toBe(0);
      expect(await reading.violations()).toEqual([]);
      const operator = await house.person('o-1', ['operator']);
      const shut = await open(operator, '/containments');
      await shut.page.getByText('This is not for your role.').waitFor();
      expect([...reading.complaints, ...shut.complaints]).toEqual([]);
    },
    TEST_MS,
  );
});

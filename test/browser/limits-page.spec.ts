import { type DeskBrowser, deskBrowser, FIRST_DESK_MS } from '../support/desk-browser.js';
import { type RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, ordinaryJob } from '../support/small-shop.js';

let house: RunningHouse;
let desk: DeskBrowser;
let quality: SignedInPerson;

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  // Still in the house: what has left is not judged anew.
  await house.post(events('0117', ordinaryJob('D-117').slice(0, -1)));
  quality = await house.person('q-1', ['quality']);
  desk = await deskBrowser(house);
}, FIRST_DESK_MS);

afterAll(async () => {
  await desk.close();
  await house.close();
});

async function holdsFor(reason: string): Promise<number> {
  const { body } = await house.call('GET', `/v1/holds?state=open&reason=${reason}`);
  return (body['items'] as unknown[]).length;
}

describe('A limit', () => {
  it('is revised only after what would change was shown, and then everything is judged anew', async () => {
    const { page, violations, complaints, close } = await desk.open(quality, '/limits');
    await page.getByRole('link', { name: 'Excursions of the device' }).click();
    const ask = page.getByRole('button', { name: 'What would change?' });
    await page.getByText('Nothing is other than what it says now.').waitFor();
    const adopt = page.getByRole('button', { name: /^Adopt/ });
    expect(await adopt.count()).toBe(0);

    await page.getByLabel('Allowed, excursions').fill('0');
    await ask.click();
    await page.getByRole('region', { name: 'What would change, by customer' }).getByText('Thimblewick').waitFor();
    const [, expected] = /raise (\d+) hold/.exec(await adopt.innerText()) ?? [];
    expect(Number(expected)).toBeGreaterThan(0);
    expect(await violations()).toEqual([]);
    expect(await holdsFor('device-excursions')).toBe(0);

    // Another figure is another question: what was shown for the last one cannot be adopted for it.
    await page.getByLabel('Allowed, excursions').fill('9');
    expect(await adopt.count()).toBe(0);
    await page.getByLabel('Allowed, excursions').fill('0');
    await ask.click();
    await adopt.click();
    await page.getByText('Judging anew by revision 2:').waitFor();
    await page.getByText(`gone through: ${expected ?? ''} holds raised`, { exact: false }).waitFor();
    expect(await holdsFor('device-excursions')).toBe(Number(expected));
    expect(complaints).toEqual([]);
    await close();
  });

  it('for a scope of its own is begun with what the house says, and shows what is wrong with it', async () => {
    const { page, violations, complaints, close } = await desk.open(quality, '/limits');
    await page.getByLabel('Of which kind').selectOption('site-reworks');
    await page.getByLabel(/^Its name/).fill('site-reworks.thimblewick');
    await page.getByRole('button', { name: 'Write it' }).click();
    await page.getByLabel('Allowed, reworks').fill('1');
    await page.getByLabel('Assembly').fill('no name');
    await page.getByRole('button', { name: 'What would change?' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Assembly').fill('');
    await page.getByLabel('Customer').fill('Thimblewick');
    await page.getByRole('button', { name: 'What would change?' }).click();
    await page.getByText('Everything in the house would stand as it does now.').waitFor();
    await page.getByRole('button', { name: 'Adopt revision 1' }).click();
    await page.getByText('customer Thimblewick').first().waitFor();
    expect(await violations()).toEqual([]);
    // The browser itself notes on the console that it was not there before, and that the first wish was refused.
    expect(complaints.filter((line) => !/404|422/.test(line))).toEqual([]);
    await close();
  });
});

import { type DeskBrowser, deskBrowser, FIRST_DESK_MS, type OpenDesk } from '../support/desk-browser.js';
import { type RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, received, SHOP } from '../support/small-shop.js';

let house: RunningHouse;
let desk: DeskBrowser;
let quality: SignedInPerson;
let hold: string;

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  const { body } = await house.call('GET', `/v1/assemblies/${SHOP.assembly}`);
  const { description, leadFree, assemblyReflows, sites } = body;
  const other = { customer: 'Zibbleford', description, leadFree, assemblyReflows, sites };
  await house.call('PUT', '/v1/assemblies/OTHER', other);
  for (const serial of ['0117', '0118']) await house.post(events(serial, [received()]));
  await house.post(events('other', [{ ...received(), subject: 'OTHER/0118' }]));
  quality = await house.person('q-1', ['quality']);
  const raised = await quality.call('POST', '/v1/holds', { assembly: SHOP.assembly, serial: '0117', note: 'scratch' });
  hold = String(raised.body['id']);
  desk = await deskBrowser(house);
}, FIRST_DESK_MS);

afterAll(async () => {
  await desk.close();
  await house.close();
});

/** As a barcode reader does: types, and presses Enter. */
async function scan({ page }: OpenDesk, text: string): Promise<void> {
  await page.keyboard.type(text);
  await page.keyboard.press('Enter');
}

describe('A scan', () => {
  it('leads to the board that is named so, and going back to where one was', async () => {
    const open = await desk.open(quality, '/units');
    const { page, complaints, close } = open;
    await page.getByRole('heading', { level: 1, name: 'Units' }).waitFor();
    await page.keyboard.press('Control+/');
    await scan(open, '0117');
    await page.waitForURL(`**/desk/units/${SHOP.assembly}/0117`);
    await page.goBack();
    await page.waitForURL('**/desk/units');
    expect(complaints).toEqual([]);
    await close();
  });

  it('of a serial that two boards have lets one choose by arrows; the next scan is not taken for a choice', async () => {
    const open = await desk.open(quality, '/search?q=0118');
    const { page, violations, close } = open;
    const first = page.getByRole('link', { name: /^OTHER\/0118/ });
    await first.waitFor();
    expect(await page.locator(':focus').innerText()).toMatch(/^OTHER\/0118/);
    expect(await violations()).toEqual([]);
    await scan(open, '0117');
    await page.waitForURL(`**/desk/units/${SHOP.assembly}/0117`);
    await page.goBack();
    await first.waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    await page.waitForURL(`**/desk/units/${SHOP.assembly}/0118`);
    await close();
  });

  it('of a hold’s id leads to the hold, in whatever letters', async () => {
    const { page, close } = await desk.open(quality, `/search?q=${hold.toUpperCase()}`);
    await page.waitForURL(`**/desk/holds/${hold}`);
    await close();
  });

  it('that nothing is named says what was looked through', async () => {
    const { page, violations, complaints, close } = await desk.open(quality, '/search?q=X-999');
    await page.getByText('Nothing is named X-999, or begins so.').waitFor();
    expect(await violations()).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });

  it('by a customer finds what is theirs and nothing else', async () => {
    const customer = await house.person('c-1', ['customer'], 'Zibbleford');
    const { page, close } = await desk.open(customer, '/search?q=0118');
    await page.waitForURL('**/desk/units/OTHER/0118');
    await close();
  });
});

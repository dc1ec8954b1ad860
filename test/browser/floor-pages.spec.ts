import { type DeskBrowser, deskBrowser, FIRST_DESK_MS } from '../support/desk-browser.js';
import { type RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, ordinaryJob, SHOP } from '../support/small-shop.js';

let house: RunningHouse;
let desk: DeskBrowser;
let quality: SignedInPerson;
let operator: SignedInPerson;
let admin: SignedInPerson;

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  await house.call('PUT', '/v1/stations/BENCH-2', { kind: 'dressing bench', calibrationDueAt: '2026-01-01T00:00:00Z' });
  await house.post(events('0117', ordinaryJob('D-117')));
  await house.post(events('0118', ordinaryJob('D-118').slice(0, 5)));
  quality = await house.person('q-1', ['quality']);
  operator = await house.person('o-1', ['operator']);
  admin = await house.person('ad-1', ['admin']);
  desk = await deskBrowser(house);
}, FIRST_DESK_MS);

afterAll(async () => {
  await desk.close();
  await house.close();
});

const parked = (assembly: string, id: string): object => ({
  ...events('9', [{ type: 'heatbook.unit.received.v1', data: {}, id, subject: `${assembly}/9` }])[0],
});

describe('The floor', () => {
  it('shows each station with its calibration, and leads to the boards that one touched', async () => {
    const { page, violations, complaints, close } = await desk.open(quality, '/stations');
    const overdue = page.getByRole('row', { name: /^BENCH-2/ });
    await overdue.getByText('overdue').waitFor();
    expect(await overdue.innerText()).toContain('since 2026-01-01');
    expect(await violations()).toEqual([]);
    await page
      .getByRole('row', { name: new RegExp(`^${SHOP.bench}`) })
      .getByRole('link', { name: SHOP.bench })
      .click();
    await page.getByText('2 units in all').waitFor();
    const touched = page.getByRole('region', { name: 'Units, one a row' }).getByRole('rowheader');
    expect(await touched.allInnerTexts()).toEqual([`${SHOP.assembly} / 0117`, `${SHOP.assembly} / 0118`]);
    expect(await violations()).toEqual([]);
    await page.getByRole('button', { name: 'Last 7 days' }).click();
    await page.getByText('It touched no unit in these days.').waitFor();
    expect(new URL(page.url()).searchParams.has('from')).toBe(true);
    expect(complaints).toEqual([]);
    await close();
  });

  it('tries parked events again, and says of each what became of it', async () => {
    await house.post([parked('LATE-BOARD', 'p-1'), parked('NO-BOARD', 'p-2')]);
    const { page, violations, complaints, close } = await desk.open(quality, '/stations');
    await page.getByText('Assembly LATE-BOARD is not in the setup.').waitFor();
    const { body } = await house.call('GET', `/v1/assemblies/${SHOP.assembly}`);
    const { customer, description, leadFree, assemblyReflows, sites } = body;
    await house.call('PUT', '/v1/assemblies/LATE-BOARD', { customer, description, leadFree, assemblyReflows, sites });
    await page.getByRole('button', { name: 'Retry these 2' }).click();
    const tried = page.getByRole('region', { name: 'Tried again' });
    await tried.getByRole('listitem').filter({ hasText: 'LATE-BOARD' }).getByText('in the book').waitFor();
    await tried.getByRole('listitem').filter({ hasText: 'NO-BOARD' }).getByText('parked again').waitFor();
    await page.getByText('Assembly LATE-BOARD is not in the setup.').waitFor({ state: 'detached' });
    expect(await violations()).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });

  it('offers no retry to an operator, who may not, and shows the rest', async () => {
    await house.post([parked('NEVER-BOARD', 'p-3')]);
    const { page, close } = await desk.open(operator, '/stations');
    await page.getByText('Assembly NEVER-BOARD is not in the setup.').waitFor();
    expect(await page.getByRole('button', { name: /Retry/ }).count()).toBe(0);
    await close();
  });

  it('issues a key that is shown once, and revokes it after asking', async () => {
    const { page, violations, close } = await desk.open(admin, `/stations/${SHOP.bench}`);
    await page.getByRole('button', { name: 'Issue a key' }).click();
    const key = await page.getByRole('dialog').getByLabel(/^Key /).inputValue();
    expect(key).toMatch(/^hbk_/);
    expect(await violations()).toEqual([]);
    const asStation = () =>
      fetch(`${desk.url}/v1/stations/${SHOP.bench}`, { headers: { authorization: `Bearer ${key}` } });
    expect((await asStation()).status).toBe(200);
    await page.getByRole('button', { name: 'Close' }).click();
    await page.getByRole('button', { name: /^Revoke / }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Revoke it' }).click();
    await page.getByText('It has no key.').waitFor();
    expect((await asStation()).status).toBe(401);
    await close();
  });
});

describe('The people', () => {
  it('are shown with what they damage and may do; an admin makes an account', async () => {
    const { page, violations, complaints, close } = await desk.open(admin, '/people');
    await page.getByRole('rowheader', { name: 'By operator' }).waitFor();
    await page.getByRole('region', { name: 'Operators and skills' }).getByText('2099-01-01').first().waitFor();
    expect(await violations()).toEqual([]);
    await page.getByRole('button', { name: 'Make an account' }).click();
    const form = page.getByRole('dialog');
    await form.getByLabel('Name', { exact: true }).fill('q-9');
    await form.getByLabel('Printed name').fill('Q. Nine');
    await form.getByLabel(/^quality/).check();
    await form.getByLabel('Password').fill('q-9 has a long word');
    expect(await violations()).toEqual([]);
    await form.getByRole('button', { name: 'Make it' }).click();
    await page.getByRole('rowheader', { name: 'q-9' }).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('set their own password, and sign in again with it', async () => {
    const person = await house.person('q-3', ['quality']);
    const { page, close } = await desk.open(person, '/people');
    await page.getByLabel('Password until now').fill(person.password);
    await page.getByLabel('New password').fill('quite another word');
    await page.getByRole('button', { name: 'Change it' }).click();
    await page.getByRole('button', { name: 'Sign in' }).waitFor();
    const again = await house.call(
      'POST',
      '/v1/session',
      { name: 'q-3', password: 'quite another word' },
      { key: null },
    );
    expect(again.status).toBe(200);
    await close();
  });
});

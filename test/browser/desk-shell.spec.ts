import { DeskBrowser, deskBrowser, FIRST_DESK_MS } from '../support/desk-browser.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import type { SignedInPerson } from '../support/signed-in-person.js';
import { enterShop, events, ordinaryJob, SHOP } from '../support/small-shop.js';

let house: RunningHouse;
let desk: DeskBrowser;
let quality: SignedInPerson;

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  await house.post(events('0117', ordinaryJob('D-117')));
  quality = await house.person('q-1', ['quality']);
  desk = await deskBrowser(house);
}, FIRST_DESK_MS);

afterAll(async () => {
  await desk.close();
  await house.close();
});

describe('The desk', () => {
  it('is what the address of the service leads to, and signs in with name and password', async () => {
    const { page, complaints, violations, close } = await desk.open(null);
    await page.goto(desk.url);
    expect(new URL(page.url()).pathname).toBe('/desk/');
    expect(await violations()).toEqual([]);
    await page.getByLabel('Name').fill(quality.name);
    await page.getByLabel('Password').fill('not this one at all');
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('alert').waitFor();
    await page.getByLabel('Password').fill(quality.password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByText(`${quality.name} in print`).waitFor();
    await page.getByText('Live', { exact: true }).waitFor();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByLabel('Password').waitFor();
    // The browser itself notes on the console that a request was refused; the page has nothing to complain of.
    expect(complaints.filter((line) => !line.includes('401'))).toEqual([]);
    await close();
  });

  it('leads on by scan: a serial and Enter', async () => {
    const { page, violations, complaints, close } = await desk.open(quality);
    await page.getByText('Live', { exact: true }).waitFor();
    await page.keyboard.press('Control+/');
    await page.keyboard.type('0117');
    await page.keyboard.press('Enter');
    await page.waitForURL(`**/desk/units/${SHOP.assembly}/0117`);
    await page.getByRole('heading', { level: 1, name: /0117/ }).waitFor();
    expect(await violations()).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });

  it('can be read at every moment of waiting', async () => {
    const { page, violations, close } = await desk.open(quality);
    let answer = (): void => undefined;
    const held = new Promise<void>((resolve) => (answer = resolve));
    await page.route('**/clearances?*', async (route) => {
      await held;
      await route.continue();
    });
    await page.goto(`${desk.url}/desk/units/${SHOP.assembly}/0117`);
    await page.getByText('Fetching clearances').waitFor({ state: 'attached' });
    for (const part of [0.1, 0.5, 0.7, 0.9, 1]) {
      await page.evaluate(holdAppearanceAt(part));
      expect(await violations()).toEqual([]);
    }
    expect(await page.getByText('Fetching clearances').isVisible()).toBe(true);
    answer();
    await page.getByText('Fetching clearances').waitFor({ state: 'detached' });
    await close();
  });

  it('says when it is not live any more, and is again once the service is back', async () => {
    const { page, close } = await desk.open(quality);
    await page.getByText('Live', { exact: true }).waitFor();
    const back = await desk.away();
    await page.getByText(/^Not live since/).waitFor();
    await back();
    await page.getByText('Live', { exact: true }).waitFor();
    await close();
  });

  it('does not pretend that somebody has signed out whose session goes on', async () => {
    const person = await house.person('q-3', ['quality']);
    const { page, violations, close } = await desk.open(person);
    await page.getByText('Live', { exact: true }).waitFor();
    const back = await desk.away();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByText(/^You are still signed in\./).waitFor();
    expect(await violations()).toEqual([]);
    expect((await person.call('GET', '/v1/session')).status).not.toBe(401);
    await back();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByLabel('Password').waitFor();
    expect((await person.call('GET', '/v1/session')).status).toBe(401);
    await close();
  });

  it('asks to sign in again, at the same address, once the session has ended', async () => {
    const person = await house.person('q-2', ['quality']);
    const { page, go, close } = await desk.open(person, '/units');
    await page.getByText('Live', { exact: true }).waitFor();
    await person.call('DELETE', '/v1/session');
    await go('/units');
    await page.getByLabel('Name').fill(person.name);
    await page.getByLabel('Password').fill(person.password);
    await page.getByRole('button', { name: 'Sign in' }).click();
    await page.getByRole('heading', { level: 1, name: 'Units' }).waitFor();
    await close();
  });

  it('says that an address leads nowhere', async () => {
    const { page, violations, close } = await desk.open(quality, '/nowhere/at/all');
    await page.getByText('Nothing has this address.').waitFor();
    expect(await violations()).toEqual([]);
    await close();
  });

  it('shows a customer only the sections that are theirs', async () => {
    const customer = await house.person('c-1', ['customer'], 'Thimblewick');
    const { page, close } = await desk.open(customer);
    const sections = page.getByRole('navigation', { name: 'Sections' }).getByRole('listitem');
    await sections.first().waitFor();
    expect(await sections.allInnerTexts()).toEqual(['Holds', 'Units']);
    await close();
  });
});

/** Script for the page: what tells of waiting stands still at this part of its appearing. */
function holdAppearanceAt(part: number): string {
  return `for (const one of document.getAnimations().filter((a) => a.animationName === 'state-appear')) {
    one.pause();
    one.currentTime = one.effect.getComputedTiming().endTime * ${part};
  }`;
}

import type { Page } from 'playwright-core';
import { DeskBrowser, deskBrowser, FIRST_DESK_MS, OpenDesk } from '../support/desk-browser.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { SignedInPerson } from '../support/signed-in-person.js';
import { deviceIn, enterShop, events, heat, inspected, placed, received, SHOP } from '../support/small-shop.js';

const TEST_MS = 45_000;

let house: RunningHouse;
let desks: DeskBrowser;
let first: SignedInPerson;
let second: SignedInPerson;
const opened: OpenDesk[] = [];

beforeAll(async () => {
  house = await runningHouse();
  await enterShop(house);
  first = await house.person('q-1', ['quality']);
  second = await house.person('q-2', ['quality']);
  desks = await deskBrowser(house);
}, FIRST_DESK_MS);

afterEach(async () => {
  await Promise.all(opened.splice(0).map((desk) => desk.close()));
});

afterAll(async () => {
  await desks.close();
  await house.close();
});

async function open(person: SignedInPerson, hold: string): Promise<OpenDesk> {
  const desk = await desks.open(person, `/holds/${hold}`);
  opened.push(desk);
  await desk.page.getByRole('heading', { level: 2, name: 'What happened' }).waitFor();
  return desk;
}

/** The open hold of this reason on a unit. */
async function holdOn(serial: string, reason: string): Promise<string> {
  const { body } = await house.call('GET', `/v1/holds?state=open&reason=${reason}&serial=${serial}`);
  const [hold] = body['items'] as readonly { readonly id: string }[];
  if (hold === undefined) throw new Error(`unit ${serial} has no open hold for ${reason}`);
  return hold.id;
}

/** Puts a unit on hold by hand, in the name of nobody who signs here. */
async function raisedOn(serial: string): Promise<string> {
  await house.post(events(serial, [received()]));
  const { body } = await house.call('POST', '/v1/holds', { assembly: SHOP.assembly, serial, note: 'to be looked at' });
  return String(body['id']);
}

/** A device that had spent all it has is placed once more; the heat was logged. */
async function overspent(serial: string): Promise<string> {
  const [device, trace] = [`D-${serial}`, `log-${serial}`];
  const rows = Array.from({ length: 300 }, (_, s) => `${s},${(236 - Math.abs(s - 200)).toFixed(1)}`);
  await house.call('PUT', `/v1/traces/${trace}`, ['seconds,T1', ...rows].join('\n'), { type: 'text/csv' });
  const spent = { ...deviceIn(device), data: { part: SHOP.part, priorExcursions: 3 } };
  const logged = { heat: { ...heat({ position: 'joint', peakC: 236 }), trace } };
  await house.post(events(serial, [received(), spent, placed(device, logged)]));
  return holdOn(serial, 'device-excursions');
}

async function sign(page: Page, { password }: Pick<SignedInPerson, 'password'>, button: string): Promise<void> {
  await page.getByLabel('Your password, again').fill(password);
  await page.getByRole('button', { name: button }).click();
}

describe('The page of a hold', () => {
  it(
    'lets two people sign: one decides and cannot release, another releases',
    async () => {
      const id = await overspent('0401');
      const desk = await open(first, id);
      const { page } = desk;
      await page.getByText('4 of 3 allowed', { exact: true }).waitFor();
      await page.getByRole('rowheader', { name: 'T1' }).waitFor();
      await page.getByRole('figure', { name: 'Trace log-0401' }).waitFor();
      await page.getByText('called for this hold').waitFor();
      expect(await desk.violations()).toEqual([]);

      await page.getByRole('button', { name: 'Decide', exact: true }).click();
      await page.getByRole('radio', { name: /^Rework/ }).check();
      await page.getByLabel('Why, and what is to be done').fill('take another device');
      expect(await desk.violations()).toEqual([]);
      await sign(page, { password: 'not the one' }, 'Sign the decision');
      await page.getByRole('dialog').getByRole('alert').waitFor();
      await sign(page, first, 'Sign the decision');
      await page.getByText('Somebody else must release it now.').waitFor();
      await page.getByText('You cannot release it').waitFor();
      await page.getByText('q-2 in print (q-2)').waitFor();
      expect(await page.getByRole('button', { name: 'Release it' }).count()).toBe(0);

      const { page: other } = await open(second, id);
      await other.getByText('Signed by q-1 in print (q-1)').waitFor();
      await other.getByRole('button', { name: 'Release it' }).click();
      await other.getByLabel('What you checked').fill('another device is on it');
      await sign(other, second, 'Sign and release');
      await other.getByText('Released: work on it may go on.').waitFor();
      const { body } = await house.call('GET', `/v1/holds/${id}`);
      expect(body).toMatchObject({ state: 'released', release: { by: 'q-2' } });
      // The browser itself notes on the console that a password was refused; the page has nothing to complain of.
      expect(desk.complaints.filter((line) => !line.includes('403') && !line.includes('401'))).toEqual([]);
    },
    TEST_MS,
  );

  it(
    'tells what somebody else did meanwhile, keeps what was written, and goes on from there',
    async () => {
      const id = await raisedOn('0402');
      const { page } = await open(first, id);
      await page.getByRole('button', { name: 'Decide', exact: true }).click();
      await page.getByRole('radio', { name: /^Use as is/ }).check();
      await page.getByLabel('Why, and what is to be done').fill('nothing is wrong with it');
      const signature = second.signature();
      await second.call('POST', `/v1/holds/${id}/dispositions`, { decision: 'scrap', note: 'burnt', signature });
      await sign(page, first, 'Sign the decision');
      await page.getByText('q-2 decided “Scrap”: burnt').waitFor();
      const { body } = await house.call('GET', `/v1/holds/${id}`);
      expect(body).toMatchObject({ decision: 'scrap' });

      expect(await page.getByLabel('Why, and what is to be done').inputValue()).toBe('nothing is wrong with it');
      await page.getByRole('button', { name: 'Seen, go on' }).click();
      await sign(page, first, 'Sign the decision');
      await page.getByText('Somebody else must release it now.').waitFor();
    },
    TEST_MS,
  );

  it(
    'shows a comment to others who have it open, without their asking',
    async () => {
      const id = await raisedOn('0403');
      const { page: theirs } = await open(second, id);
      await theirs.getByText('Live', { exact: true }).waitFor();
      const { page } = await open(first, id);
      await page.getByLabel('Add a comment').fill('the nozzle was worn');
      await page.getByRole('button', { name: 'Comment', exact: true }).click();
      await theirs.getByText('the nozzle was worn').waitFor();
    },
    TEST_MS,
  );

  it(
    'draws a measured figure against its limit, and ends when the event behind it is struck',
    async () => {
      const heightsUm = [0, 8, 16].flatMap((xMm) => [0, 8, 16].map((yMm) => ({ xMm, yMm, zUm: 0 })));
      const bent = heightsUm.map((point, n) => (n === 4 ? { ...point, zUm: -200 } : point));
      await house.post(events('0404', [received(), inspected({ technique: 'height-map', heightsUm: bent })]));
      const id = await holdOn('0404', 'flatness-max');
      const { page } = await open(first, id);
      await page.getByRole('img', { name: /^lowest point 0\.2 mm .* at most 0\.12 mm allowed$/ }).waitFor();
      await page.getByText('Something was posted wrongly').click();
      await page.getByRole('button', { name: 'Strike the event' }).click();
      await page.getByLabel('What is wrong with it').fill('the map was of another board');
      await sign(page, first, 'Sign and strike it');
      await page.getByText('Site not flat: withdrawn').waitFor();
      await page.getByRole('button', { name: 'Close' }).click();
      await page.getByText('struck by entry 3').waitFor();
      await page.getByText('Withdrawn', { exact: true }).waitFor();
    },
    TEST_MS,
  );

  it(
    'tries a parked event again, and says how that went',
    async () => {
      const cleaned = { type: 'heatbook.site.cleaned.v1', data: { refdes: 'U7', agent: 'isopropanol' } };
      await house.post(events('0405', [{ ...cleaned, subject: 'NOT-YET/0405' }]));
      const id = await holdOn('0405', 'event-parked');
      const desk = await open(first, id);
      const { page } = desk;
      await page.getByRole('button', { name: 'Try the event again' }).click();
      await page.getByText('Tried, and parked again.').waitFor();
      expect(await desk.violations()).toEqual([]);
      await enterShop({
        call: (method, path, body) => house.call(method, path.replace(SHOP.assembly, 'NOT-YET'), body),
      });
      await page.getByRole('button', { name: 'Try the event again' }).click();
      await page.getByText('Withdrawn', { exact: true }).waitFor();
    },
    TEST_MS,
  );

  it(
    'shows a customer the whole story, and nothing of how the house works on it',
    async () => {
      const id = await overspent('0406');
      await house.call('POST', `/v1/holds/${id}/comments`, { text: 'not for the customer' });
      const customer = await house.person('c-1', ['customer'], 'Thimblewick');
      const desk = await open(customer, id);
      const { page, complaints } = desk;
      await page.getByText('4 of 3 allowed', { exact: true }).waitFor();
      await page.getByText('called for this hold').waitFor();
      await page.getByRole('heading', { level: 2, name: 'How it stands' }).waitFor();
      const story = page.getByRole('main');
      expect(await story.getByRole('button').count()).toBe(0);
      expect(await story.getByText('Comment').count()).toBe(0);
      expect(await desk.violations()).toEqual([]);
      expect(complaints).toEqual([]);
    },
    TEST_MS,
  );
});

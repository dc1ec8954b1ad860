import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { RunningApi } from '../../apps/api/create-api.js';
import { serveApi } from '../../apps/api/serve-api.js';
import { newSigningKey, nodeSigner } from '../../libs/evidence/log/node-signer.js';
import { builtPages, BuiltPages } from '../support/built-pages.js';
import { openBrowser } from '../support/open-browser.js';
import { RunningHouse, runningHouse } from '../support/running-house.js';
import { enterShop, events, ordinaryJob, received, SHOP } from '../support/small-shop.js';

const PATIENCE_MS = 20_000;
/** Installing a browser, where there is none, takes a while. */
const FIRST_MS = 240_000;
/** A name that the browser takes for another machine's. */
const ELSEWHERE = 'heatbook.test';

let browser: Browser;
let pages: BuiltPages;
let house: RunningHouse;
let api: RunningApi;
/** What the house gave out: checkpoint and key before the audit, the audit, an archive. */
let given: { checkpoint: string; key: string; audit: string; archive: Buffer };

beforeAll(async () => {
  [browser, pages, house] = await Promise.all([
    openBrowser(`--host-resolver-rules=MAP ${ELSEWHERE} 127.0.0.1`),
    builtPages(),
    runningHouse(),
  ]);
  api = await serveApi(house.house, { host: '127.0.0.1', port: 0, adminKey: undefined, pages: pages.folder });
  await enterShop(house);
  await house.post(events('0101', [received()]));
  const checkpoint = await (await ask('/v1/log/checkpoint')).text();
  const { keys } = (await (await ask('/v1/log/keys')).json()) as { keys: { vkey: string }[] };
  await house.post(events('0117', ordinaryJob('D-117')));
  const since = checkpoint.split('\n')[1] ?? '';
  const audit = await (await ask(`/v1/units/${SHOP.assembly}/0117/audit?format=json&since=${since}`)).text();
  given = { checkpoint, key: keys[0]?.vkey ?? '', audit, archive: await archive() };
}, FIRST_MS);

afterAll(async () => {
  await browser.close();
  await api.close();
  await house.close();
  await pages.remove();
});

function ask(path: string): Promise<Response> {
  return fetch(`${house.url}${path}`, { headers: { authorization: `Bearer ${house.adminKey}` } });
}

async function archive(): Promise<Buffer> {
  const { body } = await house.call('POST', '/v1/audits', { assembly: SHOP.assembly });
  const path = `/v1/audits/${String(body['id'])}`;
  const deadline = performance.now() + PATIENCE_MS;
  for (;;) {
    const { state } = (await (await ask(path)).json()) as { state: string };
    if (state === 'done') return Buffer.from(await (await ask(`${path}/archive`)).arrayBuffer());
    if (performance.now() > deadline) throw new Error(`the archive is still ${state}`);
  }
}

/** The page as somebody has it open, and what it asked for or complained of since. */
interface OpenPage {
  readonly page: Page;
  readonly requests: readonly string[];
  readonly complaints: readonly string[];
}

async function open(address: string, settings: { offline?: boolean } = {}): Promise<OpenPage> {
  const context: BrowserContext = await browser.newContext(settings);
  const [requests, complaints]: string[][] = [[], []];
  context.on('request', (request) => requests?.push(request.url()));
  context.on('console', (message) => message.type() === 'error' && complaints?.push(message.text()));
  context.on('weberror', (error) => complaints?.push(error.error().message));
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  await page.goto(address);
  return { page, requests: requests ?? [], complaints: complaints ?? [] };
}

const fromDisk = (): Promise<OpenPage> => open(diskAddress(), { offline: true });
const diskAddress = (): string => pathToFileURL(join(pages.folder, 'verify.html')).href;

async function check(page: Page, name: string, content: string | Buffer): Promise<string> {
  await page
    .getByLabel('Audit or archive')
    .setInputFiles({ name, mimeType: 'application/octet-stream', buffer: Buffer.from(content) });
  await page.getByRole('button', { name: 'Check it' }).click();
  return verdict(page);
}

/** Waits for the result, and gives its words. */
async function verdict(page: Page): Promise<string> {
  const result = page.getByRole('region', { name: /^It / });
  await result.waitFor();
  return (await result.innerText()).replace(/\s+/g, ' ');
}

/** The same file with the value of one member of one entry changed. */
function tampered(seq: number): string {
  const audit = JSON.parse(given.audit) as { entries: { seq: number; time: string }[] };
  for (const entry of audit.entries) if (entry.seq === seq) entry.time = '2026-04-01T00:00:00Z';
  return JSON.stringify(audit, null, 2);
}

/** The root in the checkpoint that an audit carries, in base 64. */
function rootIn(audit: string): string {
  const { log } = JSON.parse(audit) as { log: { checkpoint: string } };
  return log.checkpoint.split('\n')[2] ?? 'none';
}

describe('the page, opened from a disk without network', () => {
  it('says that a sound audit holds, and what of it', async () => {
    const { page, requests, complaints } = await fromDisk();
    const words = await check(page, 'audit.json', given.audit);
    expect(words).toMatch(/^It holds The audit of TWO-SIDES\/0117, \d+ entries/);
    expect(words).toContain('holds TWO-SIDES/0117: every entry gives its hash');
    expect(words).toContain('What this cannot show');
    expect(words).not.toContain('does not hold');
    expect(words).toContain(rootIn(given.audit));
    expect(await page.getByRole('status').innerText()).toMatch(/^It holds: the audit of TWO-SIDES\/0117/);
    expect(requests.filter((address) => !address.startsWith('blob:'))).toEqual([diskAddress()]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('says which entry of a tampered one was changed', async () => {
    const { page, requests, complaints } = await fromDisk();
    const words = await check(page, 'audit.json', tampered(3));
    expect(words).toMatch(/^It does not hold The audit of TWO-SIDES\/0117/);
    expect(words).toContain('TWO-SIDES/0117, entry 3 Entry 3 was changed: its content does not give its hash.');
    expect(words).toContain('does not hold TWO-SIDES/0117: every entry gives its hash');
    expect(requests.filter((address) => !address.startsWith('blob:'))).toEqual([diskAddress()]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('can be used with the keyboard alone, and leads to the result', async () => {
    const { page } = await fromDisk();
    const focused = (): Promise<string> => page.evaluate('document.activeElement.id');
    await page.getByLabel('Audit or archive').setInputFiles({
      ...{ name: 'audit.json', mimeType: 'application/json' },
      buffer: Buffer.from(given.audit),
    });
    await page.getByLabel('Audit or archive').focus();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByLabel('Key of the house').waitFor();
    await page.keyboard.press('Tab');
    expect(await focused()).toBe('key');
    await page.keyboard.press('Enter');
    await verdict(page);
    expect(await focused()).toBe('verdict');
    await page.context().close();
  });

  it('takes a file that is dropped on it, and a checkpoint from a file', async () => {
    const { page } = await fromDisk();
    const dropped = await page.evaluateHandle(
      `(() => { const given = new DataTransfer(); given.items.add(new File([${JSON.stringify(given.audit)}], 'audit.json')); return given; })()`,
    );
    await page.dispatchEvent('body', 'drop', { dataTransfer: dropped });
    await page.getByText('What you have from before').click();
    const earlier = { name: 'kept.txt', mimeType: 'text/plain', buffer: Buffer.from(given.checkpoint) };
    await page.getByLabel('or from a file').setInputFiles(earlier);
    await page.getByRole('button', { name: 'Check it' }).click();
    expect(await verdict(page)).toContain('the log continues the checkpoint that you kept');
    await page.context().close();
  });

  it('refuses what it cannot read, and says what would mend it', async () => {
    const { page } = await fromDisk();
    await page.getByRole('button', { name: 'Check it' }).click();
    expect(await page.getByRole('alert').innerText()).toBe('Choose the audit or the archive first.');
    expect(await check(page, 'audit.json', given.audit.slice(0, -40))).toMatch(/^It could not be checked/);
    await page.getByText('What you have from before').click();
    await page.getByLabel('Key of the house').fill('heatbook+00000000+AAAA');
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByText('is no key').waitFor();
    expect(await page.getByRole('alert').innerText()).toContain('Copy it whole');
    await page.context().close();
  });

  it('shows the letters of a file, and does not act on them', async () => {
    const { page, complaints } = await fromDisk();
    const evil = given.audit.replaceAll('TWO-SIDES/0117', '<img src=x onerror=alert(1)>\u202e');
    const words = await check(page, '<b>audit</b>.json', evil);
    expect(words).toContain('<img src=x onerror=alert(1)>U+202E');
    expect(words).toContain('<b>audit</b>.json');
    expect(await page.locator('img').count()).toBe(0);
    expect(complaints).toEqual([]);
    await page.context().close();
  });
});

describe('the page, as the service gives it', () => {
  it('checks an archive against a key and a checkpoint from before, and tells nobody', async () => {
    const { page, requests, complaints } = await open(`${api.url}/verify`);
    await page.getByText('What you have from before').click();
    await page.getByLabel('Key of the house').fill(given.key);
    expect(await check(page, 'audits.zip', given.archive)).toMatch(/^It holds The archive of 2 units/);
    await page.getByLabel('An older checkpoint').fill(given.checkpoint.trim());
    const words = await check(page, 'audit.json', given.audit);
    expect(words).toMatch(/^It holds The audit of/);
    expect(words).toContain('the log continues the checkpoint that you kept');
    expect(requests.filter((address) => !address.startsWith('blob:'))).toEqual([`${api.url}/verify`]);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('can be saved as it is', async () => {
    const { page } = await open(`${api.url}/verify`);
    const saving = page.waitForEvent('download');
    await page.getByRole('link', { name: 'save this page' }).click();
    const saved = await saving;
    expect(saved.suggestedFilename()).toBe('heatbook-verify.html');
    expect(await readFile(await saved.path())).toEqual(await readFile(join(pages.folder, 'verify.html')));
    await page.context().close();
  });

  it('finds an archive that was cut, and a file signed by another key', async () => {
    const { page } = await open(`${api.url}/verify`);
    expect(await check(page, 'audits.zip', given.archive.subarray(0, -100))).toMatch(/^It could not be checked/);
    await page.getByText('What you have from before').click();
    const stranger = nodeSigner(newSigningKey(), given.key.split('+')[0] ?? '');
    await page.getByLabel('Key of the house').fill(stranger.vkey);
    expect(await check(page, 'audit.json', given.audit)).toMatch(/^It does not hold/);
    await page.context().close();
  });

  it('says what to do where the browser gives it no cryptography', async () => {
    const { page } = await open(`${api.url.replace('127.0.0.1', ELSEWHERE)}/verify`);
    await page.getByLabel('Audit or archive').setInputFiles({
      ...{ name: 'audit.json', mimeType: 'application/json' },
      buffer: Buffer.from(given.audit),
    });
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByText('cannot check Ed25519 signatures here').waitFor();
    expect(await page.getByRole('alert').innerText()).toContain('save it and open it from your disk');
    await page.context().close();
  });

  it('lets a script that is not its own do nothing', async () => {
    const { page, complaints } = await open(`${api.url}/verify`);
    const tried = await page.evaluate(`fetch('/health/live').then(() => 'reached', () => 'kept back')`);
    expect(tried).toBe('kept back');
    await page.evaluate(
      `document.body.append(Object.assign(document.createElement('script'), { text: 'ran = true' }))`,
    );
    expect(await page.evaluate('typeof ran')).toBe('undefined');
    expect(complaints.join()).toContain('Content Security Policy');
    await page.context().close();
  });

  it('checks away from the page, which can be stopped', async () => {
    const { page } = await open(`${api.url}/verify`);
    await page.evaluate(`for (const read of ['slice', 'arrayBuffer', 'text', 'stream']) delete Blob.prototype[read]`);
    // A check that never ends.
    await page.evaluate(`post = Worker.prototype.postMessage; Worker.prototype.postMessage = () => undefined`);
    await page.getByLabel('Audit or archive').setInputFiles({
      ...{ name: 'audit.json', mimeType: 'application/json' },
      buffer: Buffer.from(given.audit),
    });
    await page.getByRole('button', { name: 'Check it' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    expect(await page.getByRole('status').innerText()).toBe('Stopped.');
    await page.evaluate(`Worker.prototype.postMessage = post`);
    expect(await check(page, 'audit.json', given.audit)).toMatch(/^It holds/);
    await page.context().close();
  });
});

import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { RunningApi } from '../../apps/api/create-api.js';
import { serveApi } from '../../apps/api/serve-api.js';
import { builtPages } from './built-pages.js';
import { openBrowser } from './open-browser.js';
import { RunningHouse } from './running-house.js';
import { SignedInPerson } from './signed-in-person.js';

/** Whatever a page does not show within it, it will not. */
export const DESK_PATIENCE_MS = 15_000;
/** Installing a browser, where there is none, takes a while. */
export const FIRST_DESK_MS = 240_000;

/** The rules of WCAG 2.2 up to level AA, as axe names them. */
const WCAG = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];

/** The desk in one browser window, as one person has it open. */
export interface OpenDesk {
  readonly page: Page;
  readonly context: BrowserContext;
  /** What the page complained of: errors and warnings on its console, and errors that nobody caught. */
  readonly complaints: readonly string[];
  /** Goes to an address inside the desk, such as `/holds/…`, by loading it. */
  readonly go: (path: string) => Promise<void>;
  /** What axe finds against WCAG 2.2 AA in what is shown, a line each: none, where all is well. */
  readonly violations: () => Promise<readonly string[]>;
  readonly close: () => Promise<void>;
}

/** A service with the built desk, and a browser for it. */
export interface DeskBrowser {
  readonly url: string;
  readonly browser: Browser;
  /** Takes the service away, and gives it back at the same address by the function that it answers with. */
  away(): Promise<() => Promise<void>>;
  /** Opens the desk for a person who has signed in, or for nobody. */
  open(person: SignedInPerson | null, path?: string, settings?: BrowserContextOptions): Promise<OpenDesk>;
  close(): Promise<void>;
}

/** Builds the pages, serves them over the house's book, and starts a browser. */
export async function deskBrowser(house: RunningHouse): Promise<DeskBrowser> {
  const [browser, pages] = await Promise.all([openBrowser(), builtPages()]);
  const serve = (port: number): Promise<RunningApi> =>
    serveApi(house.house, { host: '127.0.0.1', port, adminKey: undefined, pages: pages.folder });
  let api = await serve(0);
  const { url } = api;
  const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
  return {
    url,
    browser,
    away: async () => {
      await api.close();
      return async () => {
        api = await serve(Number(new URL(url).port));
      };
    },
    open: (person, path = '/', settings = {}) => openDesk({ browser, url, axe, person, path, settings }),
    close: async () => {
      await browser.close();
      await api.close();
      await pages.remove();
    },
  };
}

interface Opening {
  readonly browser: Browser;
  readonly url: string;
  readonly axe: string;
  readonly person: SignedInPerson | null;
  readonly path: string;
  readonly settings: BrowserContextOptions;
}

async function openDesk({ browser, url, axe, person, path, settings }: Opening): Promise<OpenDesk> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...settings });
  const complaints: string[] = [];
  context.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  context.on('weberror', (error) => complaints.push(error.error().message));
  if (person !== null) await context.addCookies([{ ...sessionCookie(person), url }]);
  const page = await context.newPage();
  page.setDefaultTimeout(DESK_PATIENCE_MS);
  const go = async (to: string): Promise<void> => {
    await page.goto(`${url}/desk${to}`);
  };
  await go(path);
  return { page, context, complaints, go, violations: () => violationsOn(page, axe), close: () => context.close() };
}

function sessionCookie({ headers }: SignedInPerson): { name: string; value: string } {
  const [, name, value] = /^([^=]+)=([^;]+)/.exec(headers['cookie'] ?? '') ?? [];
  if (name === undefined || value === undefined) throw new Error('the person has no cookie: sign in first');
  return { name, value };
}

interface Violation {
  readonly id: string;
  readonly help: string;
  readonly nodes: readonly { readonly html: string }[];
}

async function violationsOn(page: Page, axe: string): Promise<readonly string[]> {
  await page.evaluate(axe);
  const found = await page.evaluate<readonly Violation[]>(
    `axe.run({ runOnly: ${JSON.stringify(WCAG)} }).then(({ violations }) => violations)`,
  );
  return found.map(({ id, help, nodes }) => `${id}: ${help}: ${nodes[0]?.html ?? ''}`);
}

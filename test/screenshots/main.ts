import { mkdir, writeFile } from 'node:fs/promises';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { openBrowser } from '../support/open-browser.js';
import { ShownHouse, shownHouse } from './shown-house.js';
import { ShownPage, shownPages } from './shown-pages.js';

const FOLDER = 'docs/desk';
const SCHEMES = ['light', 'dark'] as const;
const SIZES = { wide: { width: 1280, height: 900 }, tablet: { width: 834, height: 1112 } } as const;
const PATIENCE_MS = 20_000;

/** Writes docs/desk/*.webp: each page of the desk over the demo, light and dark, 1280 wide and on a tablet. Run from the root. */
await mkdir(FOLDER, { recursive: true });
const house = await shownHouse();
const browser = await openBrowser();
try {
  const pages = await shownPages(house);
  for (const colorScheme of SCHEMES) {
    for (const size of ['wide', 'tablet'] as const) {
      for (const page of pages) await take(browser, house, page, { colorScheme, size });
    }
  }
} finally {
  await browser.close();
  await house.close();
}

interface Look {
  readonly colorScheme: (typeof SCHEMES)[number];
  readonly size: keyof typeof SIZES;
}

async function take(
  opened: Browser,
  shown: ShownHouse,
  { name, path, who, shows }: ShownPage,
  look: Look,
): Promise<void> {
  const { colorScheme, size } = look;
  // The same hour everywhere; animation would make every picture another one.
  const context = await opened.newContext({
    colorScheme,
    viewport: SIZES[size],
    timezoneId: 'Europe/Berlin',
    reducedMotion: 'reduce',
  });
  if (who !== null) await signIn(context, shown, who);
  const page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  await page.goto(`${shown.url}/desk${path}`);
  await page.getByText(shows).filter({ visible: true }).first().waitFor();
  await page.waitForLoadState('load');
  const file = `${FOLDER}/${name}-${colorScheme}-${size}.webp`;
  const picture = await page.screenshot({ animations: 'disabled' });
  await writeFile(file, await smaller(await context.newPage(), picture));
  process.stdout.write(`${file}\n`);
  await context.close();
}

/** The same picture as WebP, a third of the size; the browser has the only encoder at hand. */
async function smaller(blank: Page, png: Buffer): Promise<Buffer> {
  const webp = await blank.evaluate<string>(`(async () => {
    const picture = await createImageBitmap(await (await fetch('data:image/png;base64,${png.toString('base64')}')).blob());
    const canvas = new OffscreenCanvas(picture.width, picture.height);
    canvas.getContext('2d').drawImage(picture, 0, 0);
    const packed = await canvas.convertToBlob({ type: 'image/webp', quality: 0.8 });
    return btoa(Array.from(new Uint8Array(await packed.arrayBuffer()), (byte) => String.fromCharCode(byte)).join(''));
  })()`);
  return Buffer.from(webp, 'base64');
}

async function signIn(context: BrowserContext, shown: ShownHouse, who: 'quality' | 'customer'): Promise<void> {
  const { name, password } = shown[who];
  const answer = await context.request.post(`${shown.url}/v1/session`, { data: { name, password } });
  if (!answer.ok()) throw new Error(`${name} cannot sign in: ${await answer.text()}`);
}

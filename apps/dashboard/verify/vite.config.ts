import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { defineConfig, type Plugin } from 'vite';
import { viteSingleFile } from 'vite-plugin-singlefile';

/** What stands in the page where its policy goes. */
const PLACE = '%CONTENT_SECURITY_POLICY%';

/**
 * Builds the page that checks audits: one file with its script and its style in it, which works from a disk and asks no
 * server for anything.
 */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: './',
  build: {
    outDir: fileURLToPath(new URL('../../../dist/dashboard', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
    modulePreload: false,
    rolldownOptions: { input: fileURLToPath(new URL('verify.html', import.meta.url)) },
  },
  plugins: [viteSingleFile(), policyByHash()],
});

/** Lets the page run the script and the style that are in it, start the worker that it carries, and reach nothing. */
function policyByHash(): Plugin {
  return {
    name: 'policy-by-hash',
    enforce: 'post',
    generateBundle: {
      // After everything is in the page.
      order: 'post',
      handler(_options, bundle) {
        for (const asset of Object.values(bundle)) {
          if (asset.type !== 'asset' || !asset.fileName.endsWith('.html')) continue;
          const page = String(asset.source);
          if (!page.includes(PLACE))
            throw new Error(`${asset.fileName} has no place for its policy: put ${PLACE} back.`);
          asset.source = page.replace(PLACE, policyOf(page));
        }
      },
    },
  };
}

function policyOf(page: string): string {
  return [
    "default-src 'none'",
    `script-src ${hashesOf(page, 'script')}`,
    `style-src ${hashesOf(page, 'style')}`,
    'worker-src blob:',
    'img-src data:',
    "connect-src 'none'",
    "form-action 'none'",
    "base-uri 'none'",
  ].join('; ');
}

function hashesOf(page: string, element: 'script' | 'style'): string {
  const inline = [...page.matchAll(new RegExp(`<${element}\\b[^>]*>(.*?)</${element}>`, 'gs'))];
  const sources = inline.map(([, content = '']) => `'sha256-${createHash('sha256').update(content).digest('base64')}'`);
  if (sources.length === 0) throw new Error(`The page has no ${element} in it: look what the build made of it.`);
  return sources.join(' ');
}

import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

/** Builds the hold desk: a page with its scripts, loaded as they are needed, which the API serves at /desk/. */
export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/desk/',
  build: {
    outDir: fileURLToPath(new URL('../../../dist/dashboard/desk', import.meta.url)),
    emptyOutDir: true,
    target: 'es2022',
    // The policy of the page allows no data: for scripts and fonts.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rolldownOptions: {
      // "use client" in a library tells servers that render pages something; there is none here.
      onLog: (level, log, handle) => {
        if (log.code !== 'MODULE_LEVEL_DIRECTIVE') handle(level, log);
      },
    },
  },
  // For work on the pages ("npm run desk"): they are made anew as files change, and a running service answers.
  server: { proxy: { '/v1': 'http://127.0.0.1:3000', '/verify': 'http://127.0.0.1:3000' } },
});

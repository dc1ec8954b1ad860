import { readFile, writeFile } from 'node:fs/promises';
import { clientEventSchemas } from '../../../test/support/client-event-schemas.js';

const FILE = 'libs/station-client/events/event-schemas.ts';

it('carries the schemas that the intake checks by', async () => {
  const made = clientEventSchemas();
  // "npm run client-types" sets it.
  if (process.env['WRITE_CLIENT_TYPES'] === '1') await writeFile(FILE, made);
  expect(await readFile(FILE, 'utf8')).toBe(made);
});

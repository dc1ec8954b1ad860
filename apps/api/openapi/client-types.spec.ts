import { readFile, writeFile } from 'node:fs/promises';
import { clientTypes } from '../../../test/support/client-types.js';
import { type SpecApi, startApi } from '../spec-support/start-api.js';

const FILE = 'apps/dashboard/desk/api/schema.d.ts';

describe('What the desk knows of the API', () => {
  let api: SpecApi;
  beforeAll(async () => {
    api = await startApi();
  });
  afterAll(() => api.close());

  it('is what the API says of itself', async () => {
    const made = await clientTypes((await (await fetch(`${api.url}/openapi.json`)).json()) as object);
    // "npm run client-types" sets it.
    if (process.env['WRITE_CLIENT_TYPES'] === '1') await writeFile(FILE, made);
    expect(await readFile(FILE, 'utf8')).toBe(made);
  });
});

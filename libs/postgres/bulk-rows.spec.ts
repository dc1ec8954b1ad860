import fc from 'fast-check';
import { Client } from 'pg';
import { freshDatabase, FreshDatabase } from '../../test/support/fresh-database.js';
import { columnsOf, longText, longTexts, withArrays } from './bulk-rows.js';

let fresh: FreshDatabase;
let client: Client;

beforeAll(async () => {
  fresh = await freshDatabase();
  client = new Client({ connectionString: fresh.url });
  await client.connect();
});

afterAll(async () => {
  await client.end();
  await fresh.drop();
});

// Postgres stores no NUL.
const text = fc.string({ unit: 'grapheme', maxLength: 200 }).filter((one) => !one.includes('\0'));

it('comes back from Postgres as it was given, whatever the texts', async () => {
  const rows = fc.array(fc.record({ name: text, long: fc.option(text) }), { maxLength: 20 });
  await fc.assert(
    fc.asyncProperty(rows, async (given) => {
      const { bytes, starts, lengths } = longTexts(given.map(({ long }) => long));
      const { rows: found } = await client.query<{ name: string; long: string | null }>(
        `SELECT name, ${longText('$4')} AS long
         FROM unnest($1::text[], $2::integer[], $3::integer[]) WITH ORDINALITY AS n(name, start, length, place) ORDER BY place`,
        withArrays([...columnsOf(given, ['name']), starts, lengths, bytes]),
      );
      expect(found).toEqual(given);
    }),
    { numRuns: 200 },
  );
});

it('sends lists as arrays, whatever they hold', async () => {
  const texts = ['', 'NULL', 'null', null, 'a "b"', 'c\\d', 'e\nf\t', '{x,y}', "it's", ' ', 'µ Ω 焊', '\u2028\u007f'];
  // With and without what is left to the driver.
  for (const given of [texts, texts.filter((one) => !/["\\\n]/.test(one ?? '')), []]) {
    const { rows } = await client.query<{ name: string | null; n: number; yes: boolean }>(
      `SELECT name, n, yes FROM unnest($1::text[], $2::integer[], $3::boolean[]) WITH ORDINALITY AS n(name, n, yes, place)
       ORDER BY place`,
      withArrays([given, given.map((_, n) => n - 3), given.map((_, n) => n % 2 === 0)]),
    );
    expect(rows).toEqual(given.map((name, n) => ({ name, n: n - 3, yes: n % 2 === 0 })));
  }
});

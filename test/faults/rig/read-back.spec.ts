import { createServer, Server } from 'node:http';
import { AddressInfo } from 'node:net';
import { seal } from '../../../libs/evidence/seal.js';
import { EntryBody, GENESIS_HASH, SealedEntry } from '../../../libs/ledger/ports/seal.js';
import { BookClient } from '../../support/process-client.js';
import { SHOP } from '../../support/small-shop.js';
import { outcomeOf, readBack } from './read-back.js';
import { Acknowledged } from './station-crowd.js';

const UNIT = `${SHOP.assembly}/S-1`;
const TYPE = 'heatbook.unit.shipped.v1';

let server: Server;
let client: BookClient;
/** What the service answers, by path without query. */
let answers: Record<string, unknown>;

beforeAll(async () => {
  server = createServer((request, response) => {
    const [path = ''] = (request.url ?? '').split('?');
    const answer = answers[path];
    response.statusCode = answer === undefined ? 404 : 200;
    response.end(JSON.stringify(answer ?? {}));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  client = new BookClient(`http://127.0.0.1:${String((server.address() as AddressInfo).port)}`, 'key');
});

afterAll(async () => {
  await new Promise((resolve) => server.close(resolve));
});

beforeEach(() => {
  answers = { [`/v1/units/${UNIT}`]: { state: 'shipped', sites: [], budgets: [{ subject: 'S-1', used: 1 }] } };
});

/** A ledger in which these events stand, well sealed. */
function ledgerOf(ids: readonly string[]): SealedEntry[] {
  const entries: SealedEntry[] = [];
  for (const [n, id] of ids.entries()) {
    const body: EntryBody = {
      subject: UNIT,
      seq: n + 1,
      type: TYPE,
      time: '2026-04-01T06:00:00Z',
      recordedAt: '2026-04-01T06:00:01Z',
      event: { source: '/stations/B', id },
      actor: null,
      data: {},
      effects: [],
      rules: 1,
    };
    const prevHash = entries.at(-1)?.hash ?? GENESIS_HASH;
    entries.push({ ...body, prevHash, hash: seal.sealEntry(body, prevHash).hash });
  }
  return entries;
}

const tell = (entries: readonly SealedEntry[]): void => {
  answers[`/v1/units/${UNIT}/ledger`] = { items: entries, nextCursor: null };
};
const answered = (ids: readonly string[]): Map<string, Acknowledged[]> =>
  new Map([['S-1', ids.map((id) => ({ ref: `/stations/B ${id}`, type: TYPE, ledger: UNIT }))]]);
const read = async (ids: readonly string[]): ReturnType<typeof readBack> =>
  readBack(client, answered(ids), await outcomeOf(client, 'S-1'));

it('finds every acknowledged event once', async () => {
  tell(ledgerOf(['a', 'b']));
  expect(await read(['a', 'b'])).toEqual({ acknowledged: 2, lost: 0, doubled: 0, wrong: [] });
});

it('counts what is in no ledger as lost', async () => {
  tell(ledgerOf(['a']));
  expect(await read(['a', 'b', 'c'])).toMatchObject({ acknowledged: 3, lost: 2, doubled: 0 });
});

it('takes a ledger that is not there for an empty one', async () => {
  expect(await read(['a'])).toMatchObject({ acknowledged: 1, lost: 1, wrong: ['/stations/B a is lost'] });
});

it('counts what stands there again as doubled', async () => {
  tell(ledgerOf(['a', 'b', 'a', 'a']));
  expect(await read(['a', 'b'])).toMatchObject({ lost: 0, doubled: 2 });
});

it('tells of an entry that does not follow from the one before', async () => {
  const [first, second] = ledgerOf(['a', 'b']);
  if (first === undefined || second === undefined) throw new Error('two were made');
  tell([first, { ...second, prevHash: GENESIS_HASH }]);
  expect((await read(['a', 'b'])).wrong).toEqual([`entry 2 of ${UNIT}, place 2, does not fit its chain`]);
});

it('tells of a board that came to something else than the others, whatever its name', async () => {
  tell(ledgerOf(['a']));
  const usual = await outcomeOf(client, 'S-1');
  answers[`/v1/units/${UNIT}`] = { state: 'shipped', sites: [], budgets: [{ subject: 'S-1', used: 2 }] };
  expect((await readBack(client, answered(['a']), usual)).wrong).toEqual([expect.stringContaining('"used":2')]);
});

import { nodeDigests } from '../../../libs/evidence/node-digests.js';
import { isConsistent, rootFromInclusion } from '../../../libs/ledger/log/merkle/check-proofs.js';
import { fromHex, toHex } from '../../../libs/ledger/log/notes/hex.js';
import { entryLeaf } from '../../../libs/ledger/log/stored-subtrees.js';
import { readCheckpoint } from '../../../test/support/log-bench.js';
import { problem } from '../spec-support/matchers.js';
import { enterSampleSetup, removalEvent, stationKey } from '../spec-support/sample-setup.js';
import { SpecApi, startApi } from '../spec-support/start-api.js';

const { sha256 } = nodeDigests;

interface Keys {
  readonly origin: string;
  readonly keys: readonly { readonly vkey: string }[];
}
interface Inclusion {
  readonly index: number;
  readonly size: number;
  readonly hash: string;
  readonly path: readonly string[];
}

function bytes(...hashes: readonly string[]): Uint8Array[] {
  return hashes.map((hash) => fromHex(hash, 32) ?? new Uint8Array(0));
}

describe('the log over HTTP', () => {
  let api: SpecApi;

  beforeAll(async () => {
    api = await startApi();
    await enterSampleSetup(api);
  });

  afterAll(() => api.close());

  const checkpoint = async () => {
    const answer = await api.ask('GET', '/v1/log/checkpoint', { key: null });
    const { keys } = (await api.ask('GET', '/v1/log/keys', { key: null })).body as Keys;
    return { answer, signed: await readCheckpoint(answer.text, keys) };
  };
  const ifNoneMatch = (tag: string): Promise<Response> =>
    fetch(`${api.url}/v1/log/checkpoint`, { headers: { 'if-none-match': tag } });
  const removal = async (): Promise<void> => {
    await api.ask('POST', '/v1/events', { body: [removalEvent()] });
    await api.fold();
  };

  it('has no checkpoint before it was signed', async () => {
    expect((await api.ask('GET', '/v1/log/checkpoint', { key: null })).body).toEqual(problem('not-found', 404));
    expect((await api.ask('GET', '/v1/log/keys', { key: null })).body).toMatchObject({ keys: [] });
  });

  it('shows its checkpoint to everyone, with its root as ETag', async () => {
    await removal();
    await api.sequenceLog();
    const { answer, signed } = await checkpoint();
    expect(answer.headers.get('content-type')).toContain('text/plain');
    expect(answer.headers.get('etag')).toBe(`"${toHex(signed.root)}"`);
    expect(answer.headers.get('cache-control')).toBe('public, max-age=2');
    const again = await ifNoneMatch(`"other", W/"${toHex(signed.root)}"`);
    expect([again.status, await again.text(), again.headers.get('etag')]).toEqual([304, '', `"${toHex(signed.root)}"`]);
    expect((await ifNoneMatch('"other"')).status).toBe(200);
    expect(answer.text).not.toMatch(/BRD-1|Nordlicht/);
  });

  it('proves that it goes on, to everyone, in answers that never change', async () => {
    const { signed: before } = await checkpoint();
    await removal();
    await api.sequenceLog();
    const { signed: after } = await checkpoint();
    expect(after.size).toBeGreaterThan(before.size);
    const query = `from=${before.size}&to=${after.size}`;
    const { body, headers } = await api.ask('GET', `/v1/log/proofs/consistency?${query}`, { key: null });
    expect(headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    const { path } = body as { path: readonly string[] };
    const claim = { from: before.size, to: after.size, fromRoot: before.root, toRoot: after.root };
    expect(isConsistent(sha256, { ...claim, path: bytes(...path) })).toBe(true);
    const ask = (asked: string) => api.ask('GET', `/v1/log/proofs/consistency?${asked}`, { key: null });
    expect((await ask('from=2&to=1')).body).toEqual(problem('invalid-query', 422));
    expect((await ask('from=0&to=1')).body).toEqual(problem('invalid-query', 422));
    const beyond = await ask(`from=1&to=${after.size + 1}`);
    expect(beyond.body).toEqual(problem('not-found', 404));
    expect(beyond.headers.get('cache-control')).toBe('no-store');
  });

  it('proves an entry of a unit to whoever may see the unit', async () => {
    const { signed } = await checkpoint();
    const address = '/v1/log/proofs/inclusion?assembly=BRD-1&serial=S1&seq=1';
    const { body, headers } = await api.ask('GET', address);
    const { index, size, hash, path } = body as Inclusion;
    const root = rootFromInclusion(sha256, { index, size, leaf: entryLeaf(sha256, hash), path: bytes(...path) });
    expect(root).toEqual(signed.root);
    expect(headers.get('cache-control')).toBe('no-store');
    const sized = await api.ask('GET', `${address}&size=${size}`);
    expect(sized.headers.get('cache-control')).toBe('private, max-age=31536000, immutable');
    expect(sized.body).toEqual(body);
    expect((await api.ask('GET', `${address.replace('seq=1', 'seq=2')}&size=1`)).body).toEqual(
      problem('not-found', 404),
    );
    expect((await api.ask('GET', `${address}&size=${size + 1}`)).body).toEqual(problem('not-found', 404));
    expect((await api.ask('GET', address.replace('S1', 'S9'))).body).toEqual(problem('not-found', 404));
    expect((await api.ask('GET', address.replace('serial=S1&', ''))).body).toEqual(problem('invalid-query', 422));
    expect((await api.ask('GET', address, { key: null })).status).toBe(401);
    expect((await api.ask('GET', address, { key: await stationKey(api, 'HG-1') })).status).toBe(403);
  });

  it('lists its leaves for those who oversee the book', async () => {
    const { signed } = await checkpoint();
    const all = (await api.ask('GET', '/v1/log/leaves')).body as { items: readonly { subject: string }[] };
    expect(all).toMatchObject({ nextFrom: null });
    expect(all.items).toHaveLength(signed.size);
    const some = await api.ask('GET', '/v1/log/leaves?from=1&limit=2');
    expect(some.body).toEqual({ items: all.items.slice(1, 3), nextFrom: 3 });
    expect((await api.ask('GET', '/v1/log/leaves?limit=1001')).body).toEqual(problem('invalid-query', 422));
  });

  it('has no census of a day that has not ended', async () => {
    expect((await api.ask('GET', '/v1/log/censuses')).body).toEqual({ items: [], nextCursor: null });
    expect((await api.ask('GET', '/v1/log/censuses/2030-01-01')).body).toEqual(problem('not-found', 404));
  });
});

import { afterFaults } from '../fuzz/after-faults.js';
import { readDocument } from '../fuzz/document-routes.js';
import { FuzzProduct, openFuzzProduct } from '../fuzz/fuzz-product.js';
import { FuzzRun } from '../fuzz/fuzz-run.js';
import { enterFuzzShop } from '../fuzz/fuzz-shop.js';
import { testRounds, testSeed } from '../support/process-seed.js';
import { FreshRedis, freshRedisUrl } from '../support/redis-url.js';

const SEED = testSeed();
const REQUESTS = testRounds(1_500);

let redis: FreshRedis;
let product: FuzzProduct;

beforeAll(async () => {
  redis = await freshRedisUrl();
  product = await openFuzzProduct(redis.url);
}, 60_000);

afterAll(async () => {
  await product.close();
  await redis.drop();
});

it(`answers ${String(REQUESTS)} bad requests with problems, and is as it was before (seed ${String(SEED)})`, async () => {
  const shop = await enterFuzzShop(product);
  const outcome = await new FuzzRun(product, await readDocument(product), shop, SEED).send(REQUESTS);
  expect(outcome.faults).toEqual({});
  expect(await afterFaults(product, outcome)).toEqual([]);
  // A run in which nobody came through would show nothing.
  expect(outcome.requests).toBe(REQUESTS);
  expect(outcome.byStatus['200']).toBeGreaterThan(REQUESTS / 20);
  expect(outcome.byStatus['422']).toBeGreaterThan(REQUESTS / 20);
}, 300_000);

import { parse } from 'csv-parse/sync';
import { enterShop, events, received, SHOP } from '../support/small-shop.js';
import { FuzzProduct } from './fuzz-product.js';
import { FuzzOutcome } from './fuzz-run.js';
import { processHealth } from './process-health.js';

/**
 * How much more of resident memory the api may have in the last tenth than in the second, MB, the least of each. Its heap is some
 * 100 MB by the second and ends the process above 140 (with the young generation): 40 of that may be garbage.
 */
const MOST_GROWN_MB = 48;
/** Files and sockets more than after the second tenth: pools that have opened a connection. */
const MOST_OPEN_MORE = 20;

/** What is not as it was before: the product must be ready, fold a good event, and hold on to nothing. */
export async function afterFaults(product: FuzzProduct, { health }: FuzzOutcome): Promise<string[]> {
  const faults: string[] = [];
  const ready = await product.call('GET', '/health/ready', undefined, { key: null }).catch(() => undefined);
  if (ready === undefined) return ['the api has ended', ...product.errors()];
  if (ready.status !== 200) faults.push(`/health/ready answers ${String(ready.status)}`);
  const serial = 'AFTERWARDS';
  // Whoever may change setup has done so.
  await enterShop(product);
  await product.post(events(serial, [received({ complaint: '=HYPERLINK("x")', workOrder: '+1' })]));
  const unit = await product.call('GET', `/v1/units/${SHOP.assembly}/${serial}`);
  if (unit.status !== 200) faults.push(`a good event is not folded: ${String(unit.status)}`);
  const csv = await fetch(`${product.url}/v1/units/${SHOP.assembly}/${serial}/audit?format=csv`, {
    headers: { authorization: `Bearer ${product.adminKey}` },
  });
  const text = await csv.text();
  const rows = csv.status === 200 ? parse(text, { relax_column_count: true, bom: true }) : [];
  if (!text.includes('HYPERLINK')) faults.push(`the export lacks what it should have: ${String(csv.status)} ${text}`);
  const formula = rows.flat().find((cell) => /^[=+@\t\r]|^-\D/.test(cell));
  if (formula !== undefined) faults.push(`a cell of an export is a formula: ${formula}`);
  const [, second] = health;
  const last = await processHealth(product.apiPid);
  const grownMb = (health.at(-1)?.rssMb ?? 0) - (second?.rssMb ?? 0);
  if (grownMb > MOST_GROWN_MB) faults.push(`the api has grown by ${grownMb.toFixed(0)} MB`);
  const more = (last.open ?? 0) - (second?.open ?? 0);
  if (more > MOST_OPEN_MORE) faults.push(`${String(more)} more files or sockets are open`);
  const { length, 0: first } = product.errors();
  if (length > 0) faults.push(`the api logged ${String(length)} errors, the first of them ${String(first)}`);
  return faults;
}

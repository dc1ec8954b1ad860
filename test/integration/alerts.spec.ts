import { readFile } from 'node:fs/promises';
import { parse } from 'yaml';
import { serveHealth } from '../../apps/worker/serve-health.js';
import { enterShop, events, received } from '../support/small-shop.js';
import { runningHouse } from '../support/running-house.js';

interface Rule {
  readonly alert: string;
  readonly expr: string;
  readonly labels: { readonly severity: string };
  readonly annotations: Readonly<Record<'summary' | 'description' | 'runbook_url', string>>;
}

/** One series as Prometheus reads it. */
interface Sample {
  readonly name: string;
  readonly labels: Readonly<Record<string, string>>;
}

const GUIDE = 'docs/guide/runbook.md';
/** What Prometheus makes itself of every scrape. */
const OF_PROMETHEUS: readonly Sample[] = [{ name: 'up', labels: { job: 'heatbook-api' } }];
/** Values that an untroubled product has no series of. */
const TROUBLE: ReadonlySet<string> = new Set(['status 5..']);

let rules: readonly Rule[];
let samples: readonly Sample[];
let runbook: string;

beforeAll(async () => {
  const { groups } = parse(await readFile('docker/alerts.yaml', 'utf8')) as { groups: { rules: Rule[] }[] };
  rules = groups.flatMap((group) => group.rules);
  runbook = await readFile(GUIDE, 'utf8');
  samples = await served();
});

/** Every series that api and worker serve, once there was something to count. */
async function served(): Promise<readonly Sample[]> {
  const house = await runningHouse();
  try {
    await enterShop(house);
    const [good, bad] = [events('M-1', [received()]), events('M-2', [received({ priorReflows: 'two' })])];
    await house.post([...good, ...bad]);
    await house.call('POST', '/v1/clearances', {});
    const health = await serveHealth(house.house, { host: '127.0.0.1', port: 0 });
    const texts = [house.url, health.url].map(async (url) => (await fetch(`${url}/metrics`)).text());
    const all = (await Promise.all(texts)).flatMap(samplesOf);
    await health.close();
    return [...all, ...OF_PROMETHEUS];
  } finally {
    await house.close();
  }
}

function samplesOf(text: string): Sample[] {
  return text.split('\n').flatMap((line) => {
    const [, name, labels] = /^([a-z_]+)(?:\{(.*)\})? \S+$/.exec(line) ?? [];
    if (name === undefined) return [];
    const pairs = [...(labels ?? '').matchAll(/(\w+)="([^"]*)"/g)].map(([, label = '', value = '']) => [label, value]);
    return [{ name, labels: Object.fromEntries(pairs) as Record<string, string> }];
  });
}

/** What an expression asks for: each name with its label matchers. */
function selectorsOf(expr: string) {
  return [...expr.matchAll(/\b(heatbook_\w+|process_\w+|up)\b(?:\{([^}]*)\})?/g)].map(([, name = '', inside = '']) => ({
    name,
    matchers: [...inside.matchAll(/(\w+)(=~|!~|!=|=)"([^"]*)"/g)].map(([, label = '', sign = '', value = '']) => ({
      ...{ label, sign, value },
    })),
  }));
}

describe('the alerts', () => {
  it('ask only for series that the product serves', () => {
    const faults: string[] = [];
    for (const { alert, expr } of rules) {
      const selectors = selectorsOf(expr);
      if (selectors.length === 0) faults.push(`${alert} asks for nothing`);
      for (const { name, matchers } of selectors) {
        const own = samples.filter((sample) => sample.name === name);
        if (own.length === 0) faults.push(`${alert}: there is no ${name}`);
        for (const { label, sign, value } of matchers) {
          if (!own.some(({ labels }) => label in labels)) faults.push(`${alert}: ${name} has no label ${label}`);
          if (sign.startsWith('!') || TROUBLE.has(`${label} ${value}`)) continue;
          for (const one of sign === '=' ? [value] : value.split('|')) {
            const fits = new RegExp(`^(?:${one})$`);
            if (!own.some(({ labels }) => fits.test(labels[label] ?? '')))
              faults.push(`${alert}: no ${name} has ${label} ${one}`);
          }
        }
      }
    }
    expect(faults).toEqual([]);
  });

  it('each have a severity, words, and a place in the runbook, which has no others', () => {
    const headings = [...runbook.matchAll(/^### (Heatbook\w+)$/gm)].map(([, name]) => name);
    expect(headings.toSorted()).toEqual(rules.map(({ alert }) => alert).toSorted());
    expect(new Set(headings).size).toBe(headings.length);
    for (const { alert, labels, annotations } of rules) {
      expect(['page', 'ticket']).toContain(labels.severity);
      expect(annotations.summary.length * annotations.description.length).toBeGreaterThan(0);
      expect(annotations.runbook_url).toBe(`${GUIDE}#${alert.toLowerCase()}`);
    }
  });
});

it('finds what no product serves', () => {
  expect(selectorsOf('sum(increase(heatbook_x_total{a="b",c=~"d|e"}[5m])) / up > 0')).toEqual([
    {
      name: 'heatbook_x_total',
      matchers: [
        { label: 'a', sign: '=', value: 'b' },
        { label: 'c', sign: '=~', value: 'd|e' },
      ],
    },
    { name: 'up', matchers: [] },
  ]);
});

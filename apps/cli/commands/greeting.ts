import { HeatbookConfig } from '../../../libs/config/load-config.js';
import { LoadedDemo } from '../demo/load-demo.js';

export interface Greeting {
  readonly url: string;
  /** The first admin key, where it was issued just now. */
  readonly key: string | undefined;
  readonly config: HeatbookConfig;
  readonly demo: LoadedDemo | undefined;
}

/** What a person reads when the product is up: where it is, how to sign in, what to try. */
export function greeting({ url, key, config, demo }: Greeting): string {
  const lines = ['', `Heatbook is up at ${url}`, ''];
  if (demo !== undefined) {
    const { units, events, rejected } = demo;
    lines.push(
      `An invented shift was loaded: ${String(units)} units, ${String(events)} events, ${String(rejected)} turned away as meant.`,
      '',
    );
  }
  lines.push(...signIn(key, config), '', 'Three things to try:', '');
  lines.push(...tries(url), '', 'Ctrl-C stops it; the next start goes on with the same data.', '');
  return `${lines.join('\n')}\n`;
}

function signIn(key: string | undefined, config: HeatbookConfig): string[] {
  if (key !== undefined) {
    return [
      'Sign in with the admin key. It is shown this once, and only its hash is kept:',
      '',
      `  export HEATBOOK_KEY=${key}`,
    ];
  }
  if (config.adminKey !== undefined) {
    return ['Sign in with the admin key that HEATBOOK_ADMIN_KEY gave:', '', '  export HEATBOOK_KEY=…'];
  }
  return [
    'Sign in with the admin key that was shown at the first start, as HEATBOOK_KEY. Is it lost? Stop this and say',
    '',
    '  npx heatbook admin-key',
  ];
}

function tries(url: string): string[] {
  const auth = '-H "Authorization: Bearer $HEATBOOK_KEY"';
  return [
    '  # what stands open on the floor, and why',
    `  curl -s ${auth} "${url}/v1/holds?state=open&limit=3"`,
    '',
    '  # one board: where its devices are, what they have spent of what is allowed',
    `  curl -s ${auth} ${url}/v1/units/ZIB-PANEL-1/0101`,
    '',
    '  # its audit, checked without trusting the service',
    `  curl -s ${auth} "${url}/v1/units/ZIB-PANEL-1/0101/audit?format=json" -o audit.json && npx heatbook verify audit.json`,
  ];
}

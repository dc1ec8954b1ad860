import { HeatbookConfig } from '../../../libs/config/load-config.js';
import { ADMIN_ACCOUNT } from '../../../libs/ledger/identity/account.js';
import { LoadedDemo } from '../demo/load-demo.js';

export interface Greeting {
  readonly url: string;
  /** The password of the account admin, where that was made just now. */
  readonly password: string | undefined;
  /** The first admin key, where it was issued just now. */
  readonly key: string | undefined;
  readonly config: HeatbookConfig;
  readonly demo: LoadedDemo | undefined;
  /** A unit of the book to look at; none where the book is empty. */
  readonly unit: { readonly assembly: string; readonly serial: string } | undefined;
}

/** What a person reads when the product is up: where it is, how to sign in, what to try. */
export function greeting({ url, password, key, config, demo, unit }: Greeting): string {
  const lines = ['', `Heatbook is up at ${url}`, ''];
  if (demo !== undefined) {
    const { units, events, rejected } = demo;
    lines.push(
      `An invented shift was loaded: ${String(units)} units, ${String(events)} events, ${String(rejected)} turned away as meant.`,
      '',
    );
  }
  lines.push(
    ...signIn(url, password),
    '',
    ...useKey(url, key, config),
    '',
    'Three things to try, and docs/guide/first-event.md to go on with:',
    '',
  );
  lines.push(...tries(url, unit), '', 'Ctrl-C stops it; the next start goes on with the same data.', '');
  return `${lines.join('\n')}\n`;
}

function signIn(url: string, password: string | undefined): string[] {
  if (password !== undefined) {
    return [
      `Open ${url} in a browser and sign in with this name and password. They are shown this once, and only a hash is kept:`,
      '',
      `  name      ${ADMIN_ACCOUNT}`,
      `  password  ${password}`,
    ];
  }
  return [
    `Open ${url} in a browser and sign in. Is the password of ${ADMIN_ACCOUNT} lost? Stop this and say`,
    '',
    '  npx heatbook admin-password',
  ];
}

function useKey(url: string, key: string | undefined, config: HeatbookConfig): string[] {
  if (key !== undefined) {
    return [
      'For the command line there is an admin key. It is shown this once, too:',
      '',
      `  export HEATBOOK_URL=${url}`,
      `  export HEATBOOK_KEY=${key}`,
    ];
  }
  if (config.adminKey !== undefined) {
    return ['For the command line there is the admin key that HEATBOOK_ADMIN_KEY gave:', '', '  export HEATBOOK_KEY=…'];
  }
  return [
    'For the command line there is the admin key that was shown at the first start, as HEATBOOK_KEY. Is it lost? Stop this and say',
    '',
    '  npx heatbook admin-key',
  ];
}

function tries(url: string, unit: Greeting['unit']): string[] {
  const get = 'curl -s -H "Authorization: Bearer $HEATBOOK_KEY"';
  const holds = ['  # what stands open on the floor, and why', `  ${get} "${url}/v1/holds?state=open&limit=3"`, ''];
  if (unit === undefined) {
    return [
      ...holds,
      ...['  # the limits that the house begins with', `  ${get} ${url}/v1/limits`, ''],
      ...['  # everything that can be asked and told', `  curl -s ${url}/openapi.json`],
    ];
  }
  const path = `${url}/v1/units/${unit.assembly}/${unit.serial}`;
  return [
    ...holds,
    ...['  # one board: where its devices are, what they have spent of what is allowed', `  ${get} ${path}`, ''],
    '  # its audit, checked without trusting the service',
    `  ${get} "${path}/audit?format=json" -o audit.json && npx heatbook verify audit.json`,
  ];
}

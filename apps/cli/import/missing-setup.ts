import { ServiceClient } from '../service/service-client.js';
import { MappedRow, StationEventBody } from './map-rows.js';

/** Of so many rows it is told which they are. */
const MOST_ROWS = 5;

/**
 * Assemblies and sites that events name and the setup does not have: such events are kept, but cannot be placed.
 * @returns a line for each, with rows
 * @throws as `ServiceClient.list` does
 */
export async function missingSetup(
  client: Pick<ServiceClient, 'list'>,
  rows: readonly MappedRow[],
): Promise<readonly string[]> {
  const sites = new Map(
    (await client.list('/v1/assemblies')).map((record) => [String(record['name']), sitesOf(record)]),
  );
  const missing = new Map<string, number[]>();
  for (const { row, events } of rows) {
    for (const name of new Set(events.flatMap((event) => missingIn(event, sites)))) {
      missing.set(name, [...(missing.get(name) ?? []), row]);
    }
  }
  return [...missing].map(([name, at]) => {
    const more = at.length > MOST_ROWS ? ` and ${String(at.length - MOST_ROWS)} more` : '';
    const places = `${at.slice(0, MOST_ROWS).join(', ')}${more}`;
    return `${name} is not in the setup (rows ${places}): what is posted for it waits until it is entered`;
  });
}

function missingIn({ subject, data }: StationEventBody, sites: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const [assembly = ''] = subject.split('/');
  if (assembly === 'devices' || assembly === 'stations') return [];
  const known = sites.get(assembly);
  if (known === undefined) return [`assembly ${assembly}`];
  const refdes = typeof data === 'object' && data !== null && 'refdes' in data ? data.refdes : undefined;
  return typeof refdes === 'string' && !known.has(refdes) ? [`site ${refdes} of assembly ${assembly}`] : [];
}

function sitesOf({ sites }: Readonly<Record<string, unknown>>): ReadonlySet<string> {
  const list: readonly unknown[] = Array.isArray(sites) ? sites : [];
  return new Set(
    list.map((site) => (typeof site === 'object' && site !== null && 'refdes' in site ? String(site.refdes) : '')),
  );
}

import { ServiceClient } from '../service/service-client.js';
import { FieldChange, fieldChanges } from './field-changes.js';
import { WantedRecord } from './read-setup-file.js';
import { SETUP_SECTIONS, SetupSection } from './setup-sections.js';

/** A record that the file wants otherwise than it is in force. */
export interface SetupChange {
  readonly record: WantedRecord;
  readonly isNew: boolean;
  /** What differs; of a new record nothing, since all of it does. */
  readonly fields: readonly FieldChange[];
}

export interface SetupPlan {
  readonly changes: readonly SetupChange[];
  /** How many records are in force as the file wants them. */
  readonly same: number;
  /** Things that the file names and nobody has. */
  readonly warnings: readonly string[];
}

/** Names to bodies in force, by section. */
export type InForce = ReadonlyMap<string, ReadonlyMap<string, Readonly<Record<string, unknown>>>>;

/** What routes say of a record besides its body. */
const NO_BODY = ['name', 'revision', 'at', 'by', 'recheck'];

/** Reads what is in force. @throws as `ServiceClient.ask` does */
export async function readInForce(client: Pick<ServiceClient, 'list'>, sections = SETUP_SECTIONS): Promise<InForce> {
  const found = new Map<string, ReadonlyMap<string, Readonly<Record<string, unknown>>>>();
  for (const { name, list } of sections) {
    const records = await client.list(list);
    found.set(name, new Map(records.map((record) => [String(record['name']), bodyOf(record)])));
  }
  return found;
}

function bodyOf(record: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> {
  return Object.fromEntries(Object.entries(record).filter(([member]) => !NO_BODY.includes(member)));
}

/** What of the file differs from what is in force. */
export function planSetup(wanted: readonly WantedRecord[], inForce: InForce): SetupPlan {
  const changes = wanted.flatMap((record): SetupChange[] => {
    const known = inForce.get(record.section.name)?.get(record.name);
    if (known === undefined) return [{ record, isNew: true, fields: [] }];
    const fields = fieldChanges(known, record.body);
    return fields.length === 0 ? [] : [{ record, isNew: false, fields }];
  });
  return { changes, same: wanted.length - changes.length, warnings: missingNames(wanted, inForce) };
}

/** What a record names of another section, as pointer and name. */
function namesIn({ section, body }: WantedRecord): readonly (readonly [string, string, unknown])[] {
  const sites: readonly unknown[] = section.name === 'assemblies' && Array.isArray(body['sites']) ? body['sites'] : [];
  const scope = section.name === 'limits' ? membersOf(body['scope']) : {};
  return [
    ...sites.map((site, place) => ['parts', `/sites/${String(place)}/part`, membersOf(site)['part']] as const),
    ...(section.name === 'profiles' ? [['assemblies', '/assembly', body['assembly']] as const] : []),
    ['assemblies', '/scope/assembly', scope['assembly']],
    ['parts', '/scope/part', scope['part']],
  ];
}

/** The service takes such names, since order does not matter to it; but what is judged by them finds nothing. */
function missingNames(wanted: readonly WantedRecord[], inForce: InForce): readonly string[] {
  const isThere = (section: string, name: string): boolean =>
    inForce.get(section)?.has(name) === true ||
    wanted.some((record) => record.section.name === section && record.name === name);
  return wanted.flatMap((record) =>
    namesIn(record).flatMap(([section, pointer, name]) => {
      if (typeof name !== 'string' || isThere(section, name)) return [];
      const kind = kindOf(section);
      return [`${record.at(pointer)}: ${kind} ${name} is neither in the file nor in force`];
    }),
  );
}

function kindOf(name: string): SetupSection['kind'] {
  return SETUP_SECTIONS.find((section) => section.name === name)?.kind ?? name;
}

function membersOf(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null ? (value as Readonly<Record<string, unknown>>) : {};
}

import { SetupItem } from '../../../libs/simulator/setup-item.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';

/** Where each kind that a day needs is entered. */
const PATHS: Readonly<Partial<Record<SetupItem['kind'], string>>> = {
  part: 'parts',
  assembly: 'assemblies',
  station: 'stations',
  operator: 'operators',
  profile: 'profiles',
};

/**
 * Enters what a day needs; what is there already stays as it is.
 * @throws ServiceRefused where the key may not, and where the book has assemblies that are not invented: whatever is posted stays
 * in it for ever
 */
export async function enterSetup(client: ServiceClient, setup: readonly SetupItem[]): Promise<void> {
  const invented = new Set(setup.flatMap(({ kind, name }) => (kind === 'assembly' ? [name] : [])));
  const foreign = (await assembliesOf(client)).find((name) => !invented.has(name));
  if (foreign !== undefined) {
    throw new ServiceRefused(
      `This book has ${foreign} in it. Nothing is ever taken out of a book: simulate into one that is for trying out, such as ` +
        'another HEATBOOK_DATA.',
    );
  }
  for (const { kind, name, body } of setup) {
    const path = PATHS[kind];
    if (path === undefined) throw new Error(`no path for ${kind}`);
    await client.ask('PUT', `/v1/${path}/${name.replace('@', '/revisions/')}`, body);
  }
}

async function assembliesOf(client: ServiceClient): Promise<string[]> {
  const { items } = await client.ask('GET', '/v1/assemblies?limit=200');
  return (items as readonly { readonly name: string }[]).map(({ name }) => name);
}

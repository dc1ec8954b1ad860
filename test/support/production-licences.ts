/** A package as the lock file has it. */
export interface LockedPackage {
  readonly version?: string;
  readonly resolved?: string;
  readonly integrity?: string;
  readonly license?: string;
  readonly dev?: boolean;
  readonly devOptional?: boolean;
  readonly link?: boolean;
  readonly hasInstallScript?: boolean;
}

/** By their place below the root; without the product itself. */
export type LockedPackages = Readonly<Record<string, LockedPackage>>;

/** Packages that say nothing to the lock file, or refer to a text: as their own file has it. */
const AS_READ: Readonly<Record<string, string>> = {
  'png-js': 'MIT (its LICENSE)',
  'dejavu-fonts-ttf': 'Bitstream Vera and Arev font licences (its LICENSE)',
};

export function nameOf(place: string): string {
  return place.slice(place.lastIndexOf('node_modules/') + 'node_modules/'.length);
}

/** Licences of what runs in production, by what the lock file says: `package version` to licence, by name. */
export function productionLicences(packages: LockedPackages): ReadonlyMap<string, string> {
  const found = Object.entries(packages)
    .filter(([, { dev = false, devOptional = false, link = false }]) => !dev && !devOptional && !link)
    .map(([place, { version = '', license }]): [string, string] => {
      const name = nameOf(place);
      return [`${name} ${version}`, AS_READ[name] ?? license ?? 'unknown'];
    });
  return new Map(found.sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** The page that lists them. */
export function licencesPage(licences: ReadonlyMap<string, string>): string {
  const by = new Map<string, string[]>();
  for (const [name, licence] of licences) by.set(licence, [...(by.get(licence) ?? []), name]);
  const parts = [...by]
    .sort(([a, some], [b, others]) => others.length - some.length || (a < b ? -1 : 1))
    .map(([licence, names]) => `## ${licence}: ${names.length}\n\n${names.join(', ')}\n`);
  return [
    '# Licences of what runs in production\n',
    'As the lock file has them; `npm run licences` writes this page, and a spec fails where it is out of date. Development tools are left out, and so',
    'is what the build puts into the pages of the desk (React, TanStack Query and Virtual, uPlot, openapi-fetch: MIT; wouter: Unlicense; Atkinson',
    'Hyperlegible: OFL-1.1). PostgreSQL itself, in the packages of the embedded one, is under the PostgreSQL licence.\n',
    ...parts,
  ].join('\n');
}

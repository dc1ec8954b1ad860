import { readFile, writeFile } from 'node:fs/promises';
import { licencesPage, type LockedPackages, nameOf, productionLicences } from '../support/production-licences.js';

const PAGE = 'docs/licences.md';
/** Licences that ask for nothing but their text to be kept; another one is for a person to look at. */
const KNOWN = ['MIT', 'ISC', 'Apache-2.0', 'BSD-2-Clause', 'BSD-3-Clause', '0BSD', 'Python-2.0'];

interface Manifest {
  readonly dependencies: Readonly<Record<string, string>>;
  readonly devDependencies: Readonly<Record<string, string>>;
  readonly overrides: object;
  readonly allowScripts: Readonly<Record<string, boolean>>;
}

describe('what is installed', () => {
  let manifest: Manifest;
  let packages: LockedPackages;

  beforeAll(async () => {
    manifest = JSON.parse(await readFile('package.json', 'utf8')) as Manifest;
    const lock = JSON.parse(await readFile('package-lock.json', 'utf8')) as { packages: LockedPackages };
    packages = Object.fromEntries(Object.entries(lock.packages).filter(([place]) => place !== ''));
  });

  it('is asked for by one version each', () => {
    const asked = Object.entries({ ...manifest.dependencies, ...manifest.devDependencies });
    expect(asked.filter(([, version]) => !/^\d+\.\d+\.\d+(-[\w.]+)?$/.test(version))).toEqual([]);
    const overridden = JSON.stringify(manifest.overrides).match(/":"([^"]*)"/g) ?? [];
    expect(overridden.filter((part) => !/^":"(\d+\.\d+\.\d+|\$\w+)"$/.test(part))).toEqual([]);
  });

  it('is known by the hash of its archive, and comes from the registry and nowhere else', () => {
    expect(Object.keys(packages).length).toBeGreaterThan(500);
    const unpinned = Object.entries(packages).filter(([, { integrity = '' }]) => !/^sha512-\S{88}$/.test(integrity));
    expect(unpinned.map(([place]) => place)).toEqual([]);
    const elsewhere = Object.entries(packages).filter(
      ([, { link, resolved }]) =>
        link === true || !(resolved ?? 'https://registry.npmjs.org/').startsWith('https://registry.npmjs.org/'),
    );
    expect(elsewhere.map(([place]) => place)).toEqual([]);
  });

  it('runs no script of its own when it is installed', () => {
    const withScripts = Object.entries(packages).filter(([, { hasInstallScript }]) => hasInstallScript === true);
    const names = [...new Set(withScripts.map(([place]) => nameOf(place)))];
    expect(names.filter((name) => manifest.allowScripts[name] !== false)).toEqual([]);
    expect(Object.values(manifest.allowScripts)).not.toContain(true);
  });

  it('has licences that are known, and listed', async () => {
    const licences = productionLicences(packages);
    const odd = [...licences].filter(([, licence]) => !KNOWN.includes(licence) && !licence.endsWith('(its LICENSE)'));
    expect(odd).toEqual([]);
    // "npm run licences" sets it.
    if (process.env['WRITE_LICENCES'] === '1') await writeFile(PAGE, licencesPage(licences));
    expect(await readFile(PAGE, 'utf8')).toBe(licencesPage(licences));
  });
});

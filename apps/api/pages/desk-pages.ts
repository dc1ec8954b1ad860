import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { type DeskFile, readDeskFile } from './desk-file.js';

const PAGE = 'index.html';

/** The hold desk as the build left it when the service started: one page, and the files that it loads. */
export class DeskPages {
  /** Undefined where the build was not run. */
  readonly page: DeskFile | undefined;
  /** By name inside the folder of the desk, such as `assets/index-1a2b.js`. Nothing else is ever served. */
  readonly files: ReadonlyMap<string, DeskFile>;

  /** @param folder where the build put pages */
  constructor(folder: string) {
    const desk = join(folder, 'desk');
    const names = existsSync(join(desk, PAGE)) ? fileNames(desk) : [];
    const files = new Map(names.map((name) => [name, readDeskFile(join(desk, name))]));
    this.page = files.get(PAGE);
    files.delete(PAGE);
    this.files = files;
  }
}

/** Names of all files below a folder, with slashes whatever the system. */
function fileNames(folder: string, below = ''): string[] {
  return readdirSync(join(folder, below), { withFileTypes: true }).flatMap((entry) => {
    const name = below === '' ? entry.name : `${below}/${entry.name}`;
    if (entry.isDirectory()) return fileNames(folder, name);
    return entry.isFile() ? [name] : [];
  });
}

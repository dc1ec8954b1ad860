import { appendFile, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { lookInto } from './settled-files.js';

let folder: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'heatbook-look-'));
});

afterEach(() => rm(folder, { recursive: true, force: true }));

it('takes a file once nobody has written it between two looks', async () => {
  await writeFile(join(folder, 'b.json'), '1');
  const first = await lookInto(folder, new Map());
  expect(first.settled).toEqual([]);
  await writeFile(join(folder, 'a.json'), '1');
  await appendFile(join(folder, 'b.json'), '2');
  const second = await lookInto(folder, first.look);
  expect(second.settled).toEqual([]);
  expect((await lookInto(folder, second.look)).settled).toEqual(['a.json', 'b.json']);
});

it('passes over folders and files that are not finished', async () => {
  await mkdir(join(folder, 'done'));
  for (const name of ['.hidden.json', 'a.json.part', 'a.tmp', 'a.json~', '~$a.json'])
    await writeFile(join(folder, name), '');
  const { look } = await lookInto(folder, new Map());
  expect([...look.keys()]).toEqual([]);
});

import { execFile } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { promisify } from 'node:util';
import { accessSync } from 'node:fs';
import ts from 'typescript';
import { DEMO_ASSEMBLIES } from '../../libs/simulator/boards/demo-assemblies.js';
import { FamilyMember } from '../support/process-family.js';
import { addressOf, clientOf, keyOf, RunBench } from '../support/process-run.js';
import { GuideSnippet, guideSnippets } from './guide-snippets.js';

const exec = promisify(execFile);
// The clearance at the end needs the invented shift: the pages of the roles ask for it.
const snippets = (await guideSnippets('docs/guide/first-event.md')).filter(({ file }) => file !== 'first-clearance.sh');

/** A busy machine takes its time. */
const START_MS = 60_000;

interface Runtime {
  readonly program: string;
  readonly args: readonly string[];
  readonly serial: string;
}

/** How a reader runs each file, and the board that it tells of. */
const RUNTIMES: Readonly<Record<string, Runtime>> = {
  'first-event.sh': { program: 'bash', args: ['-eu'], serial: 'FIRST-CURL' },
  'first-event.mjs': { program: 'node', args: [], serial: 'FIRST-NODE' },
  'first_event.py': { program: 'python3', args: [], serial: 'FIRST-PYTHON' },
  'first-event.ps1': { program: 'pwsh', args: ['-NoProfile', '-File'], serial: 'FIRST-POWERSHELL' },
};

const runnable = snippets.flatMap((snippet) => {
  const runtime = RUNTIMES[snippet.file];
  return runtime !== undefined && isInstalled(runtime.program) ? [{ ...snippet, ...runtime }] : [];
});

function isInstalled(program: string): boolean {
  return (process.env['PATH'] ?? '').split(delimiter).some((folder) => {
    try {
      accessSync(join(folder, program));
      return true;
    } catch {
      return false;
    }
  });
}

describe('the first event of a reader', () => {
  let bench: RunBench;
  let run: FamilyMember;
  let key: string;
  let folder: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'heatbook-guide-'));
    bench = await RunBench.open();
    run = bench.start();
    await run.printed('Ctrl-C stops it', START_MS);
    key = keyOf(run) ?? '';
    // Of the invented shift that a reader has this much is needed, and it is there sooner.
    await enterAssembly(addressOf(run), key);
  }, START_MS + 10_000);

  afterAll(async () => {
    await bench.close();
    await rm(folder, { recursive: true, force: true });
  });

  it('is shown in four languages, of which at least two can be run here', () => {
    expect(snippets.map(({ file }) => file)).toEqual(Object.keys(RUNTIMES));
    expect(runnable.map(({ program }) => program)).toEqual(expect.arrayContaining(['bash', 'node']));
  });

  it.each(runnable)('$file: is accepted and applied, and a duplicate when it is run again', async (snippet) => {
    const path = join(folder, snippet.file);
    await writeFile(path, snippet.code);
    const env = { PATH: process.env['PATH'], HOME: folder, HEATBOOK_URL: addressOf(run), HEATBOOK_KEY: key };
    const say = async (): Promise<string> => {
      const { stdout } = await exec(snippet.program, [...snippet.args, path], { env, cwd: folder });
      return stdout;
    };
    const first = await say();
    expect(first).toContain('"accepted"');
    expect(first).toContain('applied');
    const second = await say();
    expect(second).toContain('"duplicate"');
    expect(second).toContain('applied');
    const entries = await clientOf(run, key).list(`/v1/units/ZIB-PANEL-1/${snippet.serial}/ledger`);
    expect(entries).toMatchObject([{ type: 'heatbook.unit.received.v1' }]);
  });

  it('is TypeScript as it stands', async () => {
    const snippet = snippets.find(({ language }) => language === 'ts');
    expect(await complaintsOf(folder, snippet)).toEqual([]);
    const spoilt = snippet && { ...snippet, code: snippet.code.replace('await posted.text()', 'await posted.txt()') };
    expect(await complaintsOf(folder, spoilt)).toHaveLength(1);
  });
});

async function enterAssembly(url: string, key: string): Promise<void> {
  const { status } = await fetch(`${url}/v1/assemblies/ZIB-PANEL-1`, {
    method: 'PUT',
    headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
    body: JSON.stringify(DEMO_ASSEMBLIES['ZIB-PANEL-1']),
  });
  expect(status).toBe(201);
}

/** What the compiler says of a snippet in strict mode. */
async function complaintsOf(folder: string, snippet: GuideSnippet | undefined): Promise<readonly string[]> {
  const path = join(folder, 'first-event.mts');
  await writeFile(path, snippet?.code ?? '');
  const program = ts.createProgram([path], {
    strict: true,
    noEmit: true,
    skipLibCheck: true,
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.NodeNext,
    types: ['node'],
    typeRoots: [join(process.cwd(), 'node_modules', '@types')],
  });
  return ts.getPreEmitDiagnostics(program).map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, '\n'));
}

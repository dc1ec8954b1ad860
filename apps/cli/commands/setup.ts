import { stringify } from 'yaml';
import { LocatedFile } from '../files/located-file.js';
import { ServiceClient, ServiceRefused } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { withService } from '../service/with-service.js';
import { planSetup, readInForce, SetupChange, SetupPlan } from '../setup/plan-setup.js';
import { readSetupFile } from '../setup/read-setup-file.js';
import { changeInWords, planInWords, setupReport } from '../setup/setup-report.js';

export interface SetupOptions {
  readonly dryRun?: boolean;
  readonly json?: boolean;
  /** Print what is in force as a setup file, in place of entering one. */
  readonly print?: boolean;
}

/**
 * Makes the setup what a file says.
 * @returns the exit code: 0 it is as the file says, 1 the service refuses or cannot be reached, 2 the file cannot be used, 3 a
 * dry run tells of a difference
 */
export function setup(
  path: string | undefined,
  { dryRun = false, json = false, print = false }: SetupOptions,
): Promise<number> {
  return withService(async (client) => {
    if (print === (path !== undefined)) {
      throw new UnusableInput('Name a setup file to enter, or say --print to have what is in force printed as one.');
    }
    if (path === undefined) return printInForce(client, json);
    const wanted = await readSetupFile(await LocatedFile.read(path));
    const plan = planSetup(wanted, await readInForce(client));
    for (const warning of plan.warnings) process.stderr.write(`${warning}\n`);
    if (!json) tellPlan(plan);
    const applied = dryRun ? 0 : await enter(client, plan);
    if (json) process.stdout.write(`${JSON.stringify(setupReport(plan, dryRun, applied), null, 2)}\n`);
    else process.stdout.write(`${endInWords(plan, dryRun)}\n`);
    return dryRun && plan.changes.length > 0 ? 3 : 0;
  });
}

async function printInForce(client: ServiceClient, json: boolean): Promise<number> {
  const inForce = await readInForce(client);
  const file = Object.fromEntries([...inForce].map(([section, records]) => [section, Object.fromEntries(records)]));
  process.stdout.write(json ? `${JSON.stringify(file, null, 2)}\n` : stringify(file, { lineWidth: 0 }));
  return 0;
}

function tellPlan({ changes }: SetupPlan): void {
  for (const change of changes) process.stdout.write(`${changeInWords(change).join('\n')}\n`);
}

function endInWords(plan: SetupPlan, dryRun: boolean): string {
  const what = planInWords(plan);
  if (plan.changes.length === 0) return `${what}: nothing to do.`;
  return dryRun ? `${what}: nothing was entered (dry run).` : `${what}: entered.`;
}

/** @throws ServiceRefused at the first record that is refused, saying where it stands and what was entered before it */
async function enter(client: ServiceClient, { changes }: SetupPlan): Promise<number> {
  for (const [done, change] of changes.entries()) {
    const { section, name, body } = change.record;
    try {
      await client.ask('PUT', section.path(name), body);
    } catch (error) {
      const before = `${String(done)} of ${String(changes.length)} were entered before it; run it again to go on.`;
      if (!(error instanceof ServiceRefused)) {
        process.stderr.write(`${change.record.at()}: ${section.kind} ${name} could not be sent. ${before}\n`);
        throw error;
      }
      throw new ServiceRefused(`${refusedInWords(change, error)}\n${before}`, { cause: error });
    }
  }
  return changes.length;
}

/** The members that the service names, by their lines. */
function refusedInWords({ record }: SetupChange, { message, problem }: ServiceRefused): string {
  const errors = problem?.errors ?? [];
  const what = `${record.section.kind} ${record.name}`;
  if (errors.length === 0) return `${record.at()}: ${what}: ${message}`;
  return errors.map(({ pointer, detail }) => `${record.at(pointer)}: ${what} ${pointer} ${detail}`).join('\n');
}

#!/usr/bin/env node
import { Command, InvalidArgumentError } from 'commander';
import type { ArchiveOptions } from './commands/archive.js';
import type { ExportOptions } from './commands/export.js';
import type { SimulateOptions } from './commands/simulate.js';
import type { VerifyOptions } from './commands/verify.js';
import { addClientCommands } from './client-commands.js';

const UNUSABLE = 2;

// Each command is loaded when it is asked for: checking a file needs neither database nor queue.
const program = new Command('heatbook')
  .description('The book of record and the gate for BGA rework.')
  .showHelpAfterError('Say "heatbook --help" for what there is.')
  // What was mistyped must not look like the answer 1 that a command gives.
  .exitOverride(({ exitCode }) => process.exit(exitCode === 0 ? 0 : UNUSABLE));

program
  .command('run')
  .description('run everything in one process: with its own Postgres in ./data, or with DATABASE_URL and REDIS_URL')
  .action(async () => {
    const { run } = await import('./commands/run.js');
    process.exitCode = await run();
  });

program
  .command('verify')
  .description('check an exported audit, archive or checkpoint without network or database')
  .argument('<file>', 'audit in JSON, archive (zip) or signed checkpoint, as exported; "-" reads standard input')
  .option('--checkpoint <old>', 'a checkpoint or an audit that you have kept: the log has to go on from it')
  .option('--key <key>', 'verifier key of the house that you have by another way, or a file with it')
  .option('--proof <file>', 'consistency proof that you have fetched, if the file does not carry the one that it takes')
  .option('--json', 'print the report as JSON')
  .addHelpText(
    'after',
    '\nExit codes: 0 it holds, 1 it does not, 2 it cannot be read.\n\n' +
      '  heatbook verify audit-0117.json --checkpoint audit-0117-last-year.json --key house-key.txt',
  )
  .action(async (file: string, options: VerifyOptions) => {
    const { verify } = await import('./commands/verify.js');
    process.exitCode = await verify(file, options);
  });

program
  .command('export')
  .description('fetch the audit of a unit from HEATBOOK_URL with HEATBOOK_KEY')
  .argument('<assembly>')
  .argument('<serial>')
  .option('--format <format>', 'json, csv, pdf or epcis', 'json')
  .option(
    '--since-checkpoint <file>',
    'a checkpoint or an audit that you have kept: have the export prove that the log goes on from it; may be repeated',
    (file: string, before: readonly string[] | undefined) => [...(before ?? []), file],
  )
  .option('-o, --output <file>', 'where to write it, once it is whole; standard output without')
  .addHelpText(
    'after',
    '\nExit codes: 0 it is whole, 1 refused, cut or unreachable, 2 the environment cannot be used.\n\n' +
      '  heatbook export ZIB-PANEL-1 0101 -o audit.json && heatbook verify audit.json\n' +
      '  heatbook export ZIB-PANEL-1 0101 --format pdf -o 0101.pdf\n' +
      '  heatbook export ZIB-PANEL-1 0101 --since-checkpoint kept.json -o audit.json',
  )
  .action(async (assembly: string, serial: string, options: ExportOptions) => {
    const { exportAudit } = await import('./commands/export.js');
    process.exitCode = await exportAudit(assembly, serial, options);
  });

program
  .command('archive')
  .description('fetch the audits of many units as one file from HEATBOOK_URL with HEATBOOK_KEY')
  .argument('[assembly]', 'whose units; not needed with --id')
  .argument('[serials...]', 'which of them; without, all that you may see')
  .option(
    '--format <formats>',
    'csv, pdf, epcis, with commas between: beside json, which is always there',
    (text: string, before: readonly string[] | undefined) => [...(before ?? []), ...text.split(',')],
  )
  .option('-o, --output <file>', 'where to write it; without, a file in this folder named by the assembly')
  .option('--id <id>', 'fetch an archive that was asked for before, or go on with fetching it')
  .addHelpText(
    'after',
    '\nExit codes: 0 written, 1 refused, failed or unreachable, 2 arguments or environment cannot be used,\n3 written, but units are missing.\n\n' +
      '  heatbook archive ZIB-PANEL-1 --format csv,pdf -o panels.zip && heatbook verify panels.zip',
  )
  .action(async (assembly: string | undefined, serials: string[], options: ArchiveOptions) => {
    const { archive } = await import('./commands/archive.js');
    process.exitCode = await archive(assembly, serials, options);
  });

program
  .command('recount')
  .description(
    'work out from the entries what the book keeps beside them, and name what differs: for the book at DATABASE_URL or in ./data, whether it runs or not',
  )
  .option('--json', 'print differences and counts as JSON')
  .addHelpText(
    'after',
    '\nIt changes and locks nothing.\n' +
      'Exit codes: 0 nothing differs, 1 something does, 2 it could not be gone through.\n\n' +
      '  heatbook recount            # after a restore, a disk fault, before an audit',
  )
  .action(async (options: { json?: boolean }) => {
    const { recount } = await import('./commands/recount.js');
    process.exitCode = await recount({ json: options.json === true });
  });

program
  .command('simulate')
  .description('post an invented day of a rework floor to HEATBOOK_URL with an admin key, as a load or to learn by')
  .option('--stations <count>', 'benches, each with an operator of habits', wholeNumber(1, 500), 3)
  .option('--hours <hours>', 'how long boards are taken up, at most 20', wholeNumber(1, 20), 8)
  .option('--boards <count>', 'at most so many; without, as many as the benches take up', wholeNumber(1, 100_000))
  .option('--seed <number>', 'of all chance: the same seed, the same day', wholeNumber(0, 2 ** 32 - 1), 1)
  .option('--speed <factor>', 'seconds of the day in a second; without, as fast as it goes', wholeNumber(1, 100_000))
  .option('--rate <count>', 'at most so many requests a second', wholeNumber(1, 100_000))
  .option(
    '--mistakes <share>',
    'of boards on which something goes wrong, 0 to 1; or "each": one of each kind',
    shareOrEach,
    0.15,
  )
  .option('--traced <share>', 'of hot-gas heats that are logged, 0 to 1', share, 0.5)
  .option('--answers <file>', 'write the planted mistakes there in place of printing them')
  .option('--json', 'print what was done and what the book says as JSON')
  .addHelpText(
    'after',
    '\nOnly for a book to try things out in: nothing is ever taken out of a book.\n' +
      'Exit codes: 0 the book says what it should, 1 it does not, 2 it could not be played.\n\n' +
      '  heatbook simulate --mistakes each --answers answers.txt   # find them in the desk, then look\n' +
      '  heatbook simulate --stations 50 --rate 200 --traced 0.1   # a load',
  )
  .action(async (options: SimulateOptions) => {
    const { simulate } = await import('./commands/simulate.js');
    process.exitCode = await simulate(options);
  });

program
  .command('admin-key')
  .description('issue a new admin key for the book at DATABASE_URL (or ./data while it does not run); old ones end')
  .action(async () => {
    const { issueAdminKey } = await import('./commands/admin-key.js');
    process.exitCode = await issueAdminKey();
  });

program
  .command('admin-password')
  .description('set a new password for the account admin of the book at DATABASE_URL (or ./data while it does not run)')
  .action(async () => {
    const { resetAdminPassword } = await import('./commands/admin-password.js');
    process.exitCode = await resetAdminPassword();
  });

program
  .command('signing-key')
  .description(
    'make a key that the log, exports and archives are signed with, in a new file that only its owner can read',
  )
  .argument('<file>', 'where to write it, PKCS#8 PEM; one that is there already is never written over')
  .addHelpText(
    'after',
    '\nExit codes: 0 written, 1 the file is there already.\n\n  heatbook signing-key /secure/heatbook.pem',
  )
  .action(async (file: string) => {
    const { signingKey } = await import('./commands/signing-key.js');
    process.exitCode = await signingKey(file);
  });

program
  .command('rotate-key')
  .description(
    'let another key sign from now on, on record, for the book at DATABASE_URL (or ./data while it does not run)',
  )
  .requiredOption('--key <file>', 'the new key, as "heatbook signing-key" made it')
  .requiredOption('--note <text>', 'why; it goes on record')
  .option('--lost', 'the key before is lost, so that it cannot endorse the new one')
  .addHelpText(
    'after',
    '\nThe key before is taken from HEATBOOK_SIGNING_KEY, its _FILE, or the data folder.\n' +
      'Exit codes: 0 the new key is on record, 1 it cannot take over.\n\n' +
      '  HEATBOOK_SIGNING_KEY_FILE=old.pem heatbook rotate-key --key new.pem --note "Yearly change."',
  )
  .action(async (options: { key: string; note: string; lost?: boolean }) => {
    const { rotateKeyCommand } = await import('./commands/rotate-key.js');
    process.exitCode = await rotateKeyCommand({ ...options, lost: options.lost === true });
  });

addClientCommands(program);

await program.parseAsync();

function wholeNumber(low: number, high: number): (text: string) => number {
  return (text) => {
    const value = Number(text);
    if (/^\d+$/.test(text) && value >= low && value <= high) return value;
    throw new InvalidArgumentError(`It is a whole number from ${String(low)} to ${String(high)}.`);
  };
}

function share(text: string): number {
  const value = Number(text);
  if (text.trim() !== '' && value >= 0 && value <= 1) return value;
  throw new InvalidArgumentError('It is a number from 0 to 1.');
}

function shareOrEach(text: string): number | 'each' {
  return text === 'each' ? text : share(text);
}

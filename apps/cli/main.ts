#!/usr/bin/env node
import { Command } from 'commander';
import { issueAdminKey } from './commands/admin-key.js';
import { resetAdminPassword } from './commands/admin-password.js';
import { exportAudit } from './commands/export.js';
import { run } from './commands/run.js';
import { verify } from './commands/verify.js';

const program = new Command('heatbook')
  .description('The book of record and the gate for BGA rework.')
  .showHelpAfterError('Say "heatbook --help" for what there is.');

program
  .command('run')
  .description('run everything in one process: with its own Postgres in ./data, or with DATABASE_URL and REDIS_URL')
  .action(async () => {
    process.exitCode = await run();
  });

program
  .command('verify')
  .description('check an exported audit without network or database')
  .argument('<file>', 'audit in JSON, as exported; "-" reads standard input')
  .option('--json', 'print the report as JSON')
  .addHelpText(
    'after',
    '\nExit codes: 0 it holds, 1 it does not, 2 it cannot be read.\n\n  heatbook verify audit-0117.json',
  )
  .action(async (file: string, options: { json?: boolean }) => {
    process.exitCode = await verify(file, options.json === true);
  });

program
  .command('export')
  .description('fetch the audit of a unit from HEATBOOK_URL with HEATBOOK_KEY')
  .argument('<assembly>')
  .argument('<serial>')
  .option('-o, --output <file>', 'where to write it; standard output without')
  .addHelpText('after', '\n  heatbook export ZIB-PANEL-1 0101 -o audit.json && heatbook verify audit.json')
  .action(async (assembly: string, serial: string, options: { output?: string }) => {
    process.exitCode = await exportAudit(assembly, serial, options.output);
  });

program
  .command('admin-key')
  .description('issue a new admin key for the book at DATABASE_URL (or ./data while it does not run); old ones end')
  .action(async () => {
    process.exitCode = await issueAdminKey();
  });

program
  .command('admin-password')
  .description('set a new password for the account admin of the book at DATABASE_URL (or ./data while it does not run)')
  .action(async () => {
    process.exitCode = await resetAdminPassword();
  });

await program.parseAsync();

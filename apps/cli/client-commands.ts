import type { Command } from 'commander';
import type { SetupOptions } from './commands/setup.js';

/** Adds the commands that talk to a service, for whoever sets up a house, works at a bench or moves in. */
export function addClientCommands(program: Command): void {
  addSetup(program);
}

function addSetup(program: Command): void {
  program
    .command('setup')
    .description('make the setup of HEATBOOK_URL what a file says: what differs is told field by field and entered')
    .argument('[file]', 'YAML or JSON: parts, assemblies, profiles, stations, operators, limits, copperRates by name')
    .option('--dry-run', 'only tell what differs')
    .option('--print', 'print what is in force as such a file')
    .option('--json', 'print the differences as JSON')
    .addHelpText(
      'after',
      '\nRecords that the file does not name stay as they are. A record is entered as a whole: what the file leaves out of it\n' +
        'goes. Where something is refused, what was entered before it stays; run it again once it is mended.\n\n' +
        'Exit codes: 0 it is as the file says, 1 refused or unreachable, 2 the file cannot be used, 3 a dry run tells a difference.\n\n' +
        '  heatbook setup --print > house.yaml        # begin with what is in force\n' +
        '  heatbook setup house.yaml --dry-run        # what would change?\n' +
        '  heatbook setup house.yaml\n\n' +
        '  # house.yaml\n' +
        '  parts:\n' +
        '    LOGIC-1: { lengthMm: 17, widthMm: 17, thicknessMm: 1.4, msl: "3", ballAlloy: SAC305 }\n' +
        '  profiles:\n' +
        '    LOGIC-OFF@A: { purpose: removal, alloy: SAC305 }\n' +
        '  operators:\n' +
        '    op-7: { qualifications: [{ skill: braid, validUntil: "2031-12-31T23:59:59+01:00" }] }',
    )
    .action(async (file: string | undefined, options: SetupOptions) => {
      const { setup } = await import('./commands/setup.js');
      process.exitCode = await setup(file, options);
    });
}

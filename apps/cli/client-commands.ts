import type { Command } from 'commander';
import type { ClearOptions } from './commands/clear.js';
import type { ImportOptions } from './commands/import.js';
import type { PostOptions } from './commands/post.js';
import type { SetupOptions } from './commands/setup.js';

/** Adds the commands that talk to a service, for whoever sets up a house, works at a bench or moves in. */
export function addClientCommands(program: Command): void {
  addSetup(program);
  addClear(program);
  addImport(program);
  addPost(program);
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

function addClear(program: Command): void {
  program
    .command('clear')
    .description('ask HEATBOOK_URL for clearance before a heat, or give one back')
    .option('--assembly <assembly>', 'with --serial, the unit that is to be worked on')
    .option('--serial <serial>')
    .option('--device <device>', 'in place of a unit: the loose device that is to be worked on')
    .option('--operator <operator>', 'who is to do it')
    .option('--station <station>', 'where; the key of a station means itself')
    .option(
      '--step <step>',
      'one planned step: type, then name=value of what is known of it; say it again for the next',
      (step: string, before: readonly string[] | undefined) => [...(before ?? []), step],
    )
    .option('--ttl <seconds>', 'for how long; an hour where left out')
    .option('--file <file>', 'the request in JSON or YAML, as POST /v1/clearances takes it; flags win over it')
    .option('--give-back <id>', 'give this clearance back, in place of asking for one')
    .option('--timeout <seconds>', 'how long an answer is waited for', '10')
    .option('--request-key <key>', 'of a request that was not answered: learn what became of it')
    .option('--json', 'print the answer as JSON, as the service gives it')
    .addHelpText(
      'after',
      '\nExit codes: 0 granted (or given back), 1 no answer or not allowed, 2 the request cannot be used, 3 refused.\n' +
        'Heat only on 0. The answer stands on standard output.\n\n' +
        '  heatbook clear --assembly ZIB-PANEL-1 --serial T-1001 --operator op-101 --station HOTGAS-1 \\\n' +
        '    --step "device.removed refdes=U1 fate=scrap profile=ZIB-PANEL-1-U1-OFF@B" \\\n' +
        '    --step "site.dressed refdes=U1 method=braid passes=2"\n' +
        '  heatbook clear --file request.json --json > clearance.json || echo "do not heat"\n' +
        '  heatbook clear --give-back 0d6f7a9e-...',
    )
    .action(async (options: ClearOptions) => {
      const { clear } = await import('./commands/clear.js');
      process.exitCode = await clear(options);
    });
}

function addImport(program: Command): void {
  program
    .command('import')
    .description('move a spreadsheet log into HEATBOOK_URL: rows of a CSV file become events by a map')
    .argument('<file>', 'CSV with a header, such as a spreadsheet exports')
    .requiredOption('--map <file>', 'YAML or JSON: which rows are which event, and what stands in which column')
    .option('--dry-run', 'check each row and send nothing')
    .option('--partial', 'send the rows that can be taken, though others cannot')
    .option('--report <file>', 'write what became of each row: CSV, or JSON where the name ends so')
    .option('--json', 'print counts and troubles as JSON')
    .addHelpText(
      'after',
      '\nThe same rows make the same events: importing a file twice, or again with rows added, doubles nothing. Where a row\n' +
        'cannot be taken, nothing is sent unless --partial says so. How to write a map: docs/guide/moving-in.md.\n\n' +
        'Exit codes: 0 all is in the book (or could be), 1 refused or unreachable, 2 file or map cannot be used, 3 rows cannot be taken.\n\n' +
        '  heatbook import log.csv --map map.yaml --dry-run --report rows.csv\n' +
        '  heatbook import log.csv --map map.yaml\n\n' +
        '  # map.yaml\n' +
        '  station: OLD-LOG\n' +
        '  timeZone: Europe/Berlin\n' +
        '  dateFormat: dd.MM.yyyy HH:mm\n' +
        '  events:\n' +
        '    - type: site.cleaned\n' +
        '      when: { Step: [cleaned, washed] }\n' +
        '      subject: "{Assembly}/{Serial}"\n' +
        '      time: { column: Date }\n' +
        '      data: { refdes: { column: Position }, agent: solvent }',
    )
    .action(async (file: string, options: ImportOptions) => {
      const { importLog } = await import('./commands/import.js');
      process.exitCode = await importLog(file, options);
    });
}

function addPost(program: Command): void {
  program
    .command('post')
    .description(
      'post station events to HEATBOOK_URL: of a file, of standard input, or of files as they come into a folder',
    )
    .argument('[file]', 'one event, a JSON list, or an event a line; "-" reads standard input')
    .option('--watch <folder>', 'post .json, .ndjson and .jsonl files, and upload .csv files as traces, as they come')
    .option('--once', 'with --watch: take what is there, and end')
    .option('--spool <folder>', 'keep events there until they are answered for, over restarts and outages')
    .option('--timeout <seconds>', 'how long it is waited for the answers to a file', '60')
    .option('--trace-query <query>', 'how traces are to be read, such as "unit=mV&type=K&coldJunctionC=0"')
    .option('--json', 'print what became of it as JSON; with --watch a line for each file')
    .addHelpText(
      'after',
      '\nPosting the same events again doubles nothing. A file in a watched folder goes to done/ once all of it is in the book,\n' +
        'or to failed/ with the reason beside it; the spool is .heatbook-spool in that folder where none is named. Write a file\n' +
        'under a name that ends in .part and rename it when it is whole. Upload a trace before the events that name it.\n\n' +
        'Exit codes: 0 all is in the book, 1 not all was answered for, 2 it cannot be read, 3 something was rejected.\n\n' +
        '  heatbook post shift.ndjson\n' +
        '  logger | heatbook post - --spool /var/lib/bench/spool\n' +
        '  heatbook post --watch /srv/oven-1',
    )
    .action(async (file: string | undefined, options: PostOptions) => {
      const { post } = await import('./commands/post.js');
      process.exitCode = await post(file, options);
    });
}

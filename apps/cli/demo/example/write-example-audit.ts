import { writeFile } from 'node:fs/promises';
import { exampleAudit, openExample } from './example-audit.js';

/** Writes docs/example-audit.pdf and docs/example-audit.json; run from the root of the checkout. */
const { pdf, json } = await exampleAudit(await openExample());
await writeFile('docs/example-audit.pdf', pdf);
await writeFile('docs/example-audit.json', json);
process.stdout.write(`docs/example-audit.pdf ${String(pdf.length)} bytes, .json ${String(json.length)} bytes\n`);

import { readFile } from 'node:fs/promises';
import { buffer } from 'node:stream/consumers';
import { describeReport, verifyExitCode } from '../../../libs/evidence/describe-report.js';
import { verifyAudit } from '../../../libs/evidence/verify-audit.js';

/** Checks an audit file and says in words what holds and what does not. @returns the exit code. */
export async function verify(file: string, asJson: boolean): Promise<number> {
  const text = await readText(file);
  if (text === undefined) return 2;
  const report = verifyAudit(text);
  process.stdout.write(asJson ? `${JSON.stringify(report, null, 2)}\n` : `${describeReport(report).join('\n')}\n`);
  return verifyExitCode(report);
}

async function readText(file: string): Promise<string | undefined> {
  try {
    const bytes = file === '-' ? await buffer(process.stdin) : await readFile(file);
    // A byte that is not UTF-8 would otherwise be replaced without a word.
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (error) {
    process.stderr.write(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}\n`);
    return undefined;
  }
}

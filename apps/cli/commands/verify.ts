import { nodeDigests } from '../../../libs/evidence/node-digests.js';
import { describeReport, verifyExitCode } from '../../../libs/evidence/verify/describe-report.js';
import { verifyFile } from '../../../libs/evidence/verify/verify-file.js';
import { openFile } from '../verify/open-file.js';
import { readKept, type KeptFiles } from '../verify/read-kept.js';

/** What can be said besides the file. */
export interface VerifyOptions extends KeptFiles {
  readonly json?: boolean;
}

/**
 * Checks an audit, an archive or a checkpoint without network or database, and says in words what holds and what does not.
 * @returns the exit code: 0 it holds, 1 it does not, 2 it cannot be read
 */
export async function verify(path: string, { json, ...given }: VerifyOptions): Promise<number> {
  try {
    const kept = await readKept(given);
    const file = await openFile(path);
    try {
      const report = await verifyFile(file, nodeDigests, kept);
      process.stdout.write(
        json === true ? `${JSON.stringify(report, null, 2)}\n` : `${describeReport(report).join('\n')}\n`,
      );
      return verifyExitCode(report);
    } finally {
      await file.close();
    }
  } catch (error) {
    process.stderr.write(`${path} cannot be checked: ${error instanceof Error ? error.message : String(error)}\n`);
    return 2;
  }
}

import { loadConfig } from '../../../libs/config/load-config.js';
import { nodeSigner } from '../../../libs/evidence/log/node-signer.js';
import { KeyFileTaken, makeSigningKeyFile } from '../../house/signing-key-file.js';

/**
 * Makes a signing key in a new file. Its verifier key has the name of the log in it, so it can be printed only where
 * HEATBOOK_ORIGIN gives that.
 * @returns the exit code: 1 where the file is there already
 */
export async function signingKey(file: string): Promise<number> {
  const { origin } = loadConfig();
  try {
    const key = await makeSigningKeyFile(file);
    const verifier = origin === undefined ? [] : [`Its verifier key: ${nodeSigner(key, origin).vkey}`];
    const lines = [
      `A new key is in ${file}. Keep a copy where the database is not, and let nobody else read it.`,
      ...verifier,
      'Give it to api and worker as HEATBOOK_SIGNING_KEY_FILE; where another key signs already, say heatbook rotate-key first.',
      'GET /v1/log/keys shows the verifier key once it signs.',
    ];
    process.stdout.write(`${lines.join('\n')}\n`);
    return 0;
  } catch (error) {
    if (!(error instanceof KeyFileTaken)) throw error;
    process.stderr.write(`${error.message}\n`);
    return 1;
  }
}

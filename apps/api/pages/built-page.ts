import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A page that the build made, whole in one file. */
export interface BuiltPage {
  readonly html: string;
  /** Entity tag: of its content. */
  readonly etag: string;
  /** Its Content-Security-Policy, with the hashes of the script and the style that are in it. */
  readonly policy: string;
}

const POLICY = /<meta http-equiv="Content-Security-Policy" content="([^"]+)"/;

/** Where the build puts pages: beside the compiled apps, or below `dist` where the sources themselves are run. */
export function pagesFolder(): string {
  const root = fileURLToPath(new URL('../../../', import.meta.url));
  const beside = join(root, 'dashboard');
  return existsSync(beside) ? beside : join(root, 'dist', 'dashboard');
}

/**
 * Reads a page of the build.
 * @returns undefined where there is none: the build was not run
 * @throws Error for one without a policy, which would let it reach other servers
 */
export function readBuiltPage(folder: string, name: string): BuiltPage | undefined {
  const file = join(folder, name);
  if (!existsSync(file)) return undefined;
  const html = readFileSync(file, 'utf8');
  const policy = POLICY.exec(html)?.[1];
  if (policy === undefined) throw new Error(`${file} names no Content-Security-Policy: say "npm run build" again.`);
  return { html, etag: `"${createHash('sha256').update(html).digest('hex')}"`, policy };
}

import { join } from 'node:path';

/** What global-setup hands to the suites. */
export function testEnvironment(name: 'TEST_TREE' | 'TEST_DATABASE_URL' | 'TEST_REDIS_URL'): string {
  const value = process.env[name];
  if (value === undefined)
    throw new Error(`${name} is not set: run the tests through Jest with the settings of package.json`);
  return value;
}

/**
 * The runnable JavaScript of a source file, made from the source at the beginning of this run.
 *
 * @param source path from the root of the repository, such as `apps/worker/main.ts`
 */
export function runnable(source: string): string {
  return join(testEnvironment('TEST_TREE'), source.replace(/\.ts$/, '.js'));
}

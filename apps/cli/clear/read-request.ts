import { LocatedFile } from '../files/located-file.js';
import { UnusableInput } from '../service/unusable-input.js';
import { readStep } from './read-step.js';

/** What of a request for clearance can be said by flags; they win over the file. */
export interface RequestFlags {
  readonly file?: string;
  readonly assembly?: string;
  readonly serial?: string;
  readonly device?: string;
  readonly operator?: string;
  readonly station?: string;
  /** Each as `readStep` takes it; in place of those of the file, where there are any. */
  readonly step?: readonly string[];
  /** Seconds, as it was typed. */
  readonly ttl?: string;
}

export interface ClearanceRequest {
  readonly body: Readonly<Record<string, unknown>>;
  /** Where a member of it came from, for a problem that names it. */
  readonly at: (pointer: string) => string | undefined;
}

/**
 * Puts a request together from a file and flags.
 * @throws UnusableInput where nothing is said of what is to be done, or the file cannot be used
 */
export async function readRequest(flags: RequestFlags): Promise<ClearanceRequest> {
  const { file: path, step = [], ttl, ...names } = flags;
  const file = path === undefined ? undefined : await LocatedFile.read(path);
  const { assembly, serial, device, operator, station } = names;
  const said = Object.entries({ assembly, serial, device, operator, station }).filter(
    ([, value]) => value !== undefined,
  );
  const body = {
    ...membersOf(file),
    ...Object.fromEntries(said),
    ...(step.length > 0 && { steps: step.map(readStep) }),
    ...(ttl !== undefined && { ttlSeconds: wholeSeconds('--ttl', ttl) }),
  };
  if (!('steps' in body)) throw new UnusableInput('Say what is to be done: --step, once for each, or --file.');
  return {
    body,
    at: (pointer) => {
      const top = pointer.split('/')[1] ?? '';
      if (file === undefined || top in Object.fromEntries(said) || (top === 'steps' && step.length > 0))
        return undefined;
      return file.at(pointer.split('/').slice(1));
    },
  };
}

/** @throws UnusableInput where it is no whole number of seconds above 0 */
export function wholeSeconds(flag: string, given: string): number {
  if (/^[1-9]\d{0,8}$/.test(given)) return Number(given);
  throw new UnusableInput(`${flag} must be a whole number of seconds, but is "${given}".`);
}

function membersOf(file: LocatedFile | undefined): Readonly<Record<string, unknown>> {
  if (file === undefined) return {};
  const { value } = file;
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return { ...value };
  throw new UnusableInput(`${file.at([])}: a request is an object: assembly, serial, operator, station, steps.`);
}

import { randomUUID } from 'node:crypto';
import { link, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { SpoolLocked } from '../errors.js';
import { errorCode } from './file-trouble.js';

/** Where a pid means something: on Linux in its namespace, until the next boot. Empty where the system does not tell. */
interface Place {
  readonly host: string;
  readonly boot: string;
  readonly namespace: string;
}

/** Who has a spool. */
interface Owner extends Place {
  readonly pid: number;
  /** When the process was started, in ticks since boot; empty where the system does not tell. Guards against a pid used again. */
  readonly started: string;
}

export interface SpoolLock {
  /** Undefined as long as it is held. After a long standstill another may have taken it. */
  lost(): SpoolLocked | undefined;
  release(): Promise<void>;
}

const NAME = /^lock\.(\d+)$/;
const BEAT_MS = 5_000;
/** An owner whose process cannot be seen from here, as from another container, is given up after this silence. */
const SILENT_MS = 60_000;

/**
 * Takes a folder for this process. Locks are numbered, and the highest number counts: whoever finds its owner dead links the next
 * number, which only one can. A released lock stays as an empty file, so that numbers only grow.
 * @throws SpoolLocked where a process that lives has it
 */
export async function lockSpool(folder: string): Promise<SpoolLock> {
  const own = `${JSON.stringify(await thisProcess())}\n`;
  const draft = join(folder, `claim-${randomUUID()}`);
  await writeFile(draft, own, { flush: true });
  try {
    for (;;) {
      const highest = await highestLock(folder);
      if (highest > 0) await assertFree(folder, highest);
      const next = highest + 1;
      try {
        await link(draft, lockFile(folder, next));
      } catch (error) {
        if (errorCode(error) === 'EEXIST') continue;
        throw error;
      }
      // Somebody who came, worked and went since the look has taken older numbers away with it: theirs counts.
      if ((await highestLock(folder)) > next) {
        await rm(lockFile(folder, next), { force: true });
        continue;
      }
      for (const older of (await locks(folder)).filter((n) => n < next))
        await rm(lockFile(folder, older), { force: true });
      return heldLock(folder, next);
    }
  } finally {
    await rm(draft, { force: true });
  }
}

function heldLock(folder: string, number: number): SpoolLock {
  const file = lockFile(folder, number);
  let lost: SpoolLocked | undefined;
  const beat = async (): Promise<void> => {
    const now = new Date();
    if ((await highestLock(folder)) !== number) {
      lost = new SpoolLocked(`Another process has taken the spool ${folder} while this one stood still: close it.`);
    } else {
      await utimes(file, now, now);
    }
  };
  // A beat that fails for once is made up for by the next.
  const timer = setInterval(() => void beat().catch(() => undefined), BEAT_MS).unref();
  return {
    lost: () => lost,
    release: async () => {
      clearInterval(timer);
      if (lost === undefined) await writeFile(file, '');
    },
  };
}

/** @throws SpoolLocked */
async function assertFree(folder: string, number: number): Promise<void> {
  const file = lockFile(folder, number);
  let text: string;
  let silentMs: number;
  try {
    text = await readFile(file, 'utf8');
    silentMs = Date.now() - (await stat(file)).mtimeMs;
  } catch (error) {
    // Taken over and away by somebody with a higher number, which the caller will find.
    if (errorCode(error) === 'ENOENT') return;
    throw error;
  }
  if (text === '') return;
  const owner = JSON.parse(text) as Owner;
  const here = await thisPlace();
  const isRebooted = owner.host === here.host && owner.boot !== here.boot;
  const isHere = owner.host === here.host && owner.boot === here.boot && owner.namespace === here.namespace;
  const isAlive = isHere ? await isRunning(owner) : !isRebooted && silentMs < SILENT_MS;
  if (!isAlive) return;
  const hint = isHere
    ? 'Let one process post, or give each a spool of its own.'
    : `If it is gone, wait ${String(SILENT_MS / 1000)} s, or remove ${file}.`;
  throw new SpoolLocked(`Process ${String(owner.pid)} on ${owner.host} has the spool ${folder}. ${hint}`);
}

async function isRunning({ pid, started }: Owner): Promise<boolean> {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // EPERM: it runs, as somebody else.
    if (errorCode(error) === 'ESRCH') return false;
  }
  return started === '' || (await startOf(pid)) === started;
}

async function thisProcess(): Promise<Owner> {
  return { pid: process.pid, started: await startOf(process.pid), ...(await thisPlace()) };
}

async function thisPlace(): Promise<Place> {
  const boot = await readFile('/proc/sys/kernel/random/boot_id', 'utf8').catch(() => '');
  const namespace = await stat('/proc/self/ns/pid').then(
    ({ ino }) => String(ino),
    () => '',
  );
  return { host: hostname(), boot: boot.trim(), namespace };
}

/** Empty where the system does not tell, and for a process that has ended and only waits to be buried. */
async function startOf(pid: number): Promise<string> {
  const text = await readFile(`/proc/${String(pid)}/stat`, 'utf8').catch(() => '');
  // The name of the program stands in brackets and may hold anything. After it: the state, and 19 fields on the start.
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  return fields[0] === 'Z' ? '' : (fields[19] ?? '');
}

async function highestLock(folder: string): Promise<number> {
  return Math.max(0, ...(await locks(folder)));
}

async function locks(folder: string): Promise<number[]> {
  return (await readdir(folder)).flatMap((name) => NAME.exec(name)?.slice(1).map(Number) ?? []);
}

function lockFile(folder: string, number: number): string {
  return join(folder, `lock.${String(number)}`);
}

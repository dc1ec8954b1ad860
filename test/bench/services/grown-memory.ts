import { readFile, writeFile } from 'node:fs/promises';

/** What the kernel takes for "forget the peak so far" (proc(5), clear_refs). */
const FORGET_PEAK = '5';

/**
 * By how much the resident memory of a process grew at most while something was done, bytes: the kernel's own peak, which
 * no looking from time to time could miss. NaN where there is no /proc, as on other systems than Linux.
 */
export async function grownDuring(pid: number, work: () => Promise<unknown>): Promise<number> {
  const before = await residentBytes(pid, 'VmRSS');
  if (!Number.isNaN(before)) await writeFile(`/proc/${String(pid)}/clear_refs`, FORGET_PEAK);
  await work();
  return (await residentBytes(pid, 'VmHWM')) - before;
}

async function residentBytes(pid: number, line: 'VmRSS' | 'VmHWM'): Promise<number> {
  const status = await readFile(`/proc/${String(pid)}/status`, 'utf8').catch(() => '');
  return Number(new RegExp(`^${line}:\\s+(\\d+) kB$`, 'm').exec(status)?.[1] ?? NaN) * 1024;
}

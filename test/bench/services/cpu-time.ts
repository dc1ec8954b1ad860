import { readdir, readFile, readlink } from 'node:fs/promises';

/** Of a tick of /proc/PID/stat on Linux, whatever the kernel's own clock does (USER_HZ, proc(5)). */
const TICK_US = 10_000;
/** Fields of /proc/PID/stat after the name of the program, which may itself hold spaces and brackets. */
const FIELD = { parent: 1, user: 11, system: 12, childrenUser: 13, childrenSystem: 14 } as const;

/** CPU time of a process, us; of one that is gone, or where there is no /proc, NaN. */
export interface CpuTime {
  readonly own: number;
  /** Of children that have ended and were reaped. */
  readonly ended: number;
}

export async function cpuTime(pid: number): Promise<CpuTime> {
  const fields = await statOf(pid);
  const ticks = (name: keyof typeof FIELD): number => Number(fields[FIELD[name]] ?? NaN);
  return {
    own: (ticks('user') + ticks('system')) * TICK_US,
    ended: (ticks('childrenUser') + ticks('childrenSystem')) * TICK_US,
  };
}

/** What started it; NaN where it is gone. */
export async function parentOf(pid: number): Promise<number> {
  return Number((await statOf(pid))[FIELD.parent] ?? NaN);
}

/** Processes that it has started and that still run. */
export async function childrenOf(pid: number): Promise<readonly number[]> {
  const all = (await readdir('/proc').catch(() => [])).filter((name) => /^\d+$/.test(name)).map(Number);
  const parents = await Promise.all(all.map(parentOf));
  return all.filter((_, n) => parents[n] === pid);
}

/** Local ports of the TCP connections over IPv4 that a process has: by them a server tells whom it works for. */
export async function portsOf(pid: number): Promise<ReadonlySet<number>> {
  const folder = `/proc/${String(pid)}/fd`;
  const names = await readdir(folder).catch(() => []);
  const links = await Promise.all(names.map((name) => readlink(`${folder}/${name}`).catch(() => '')));
  const inodes = new Set(links.map((link) => /^socket:\[(\d+)\]$/.exec(link)?.[1]));
  const table = await readFile(`/proc/${String(pid)}/net/tcp`, 'utf8').catch(() => '');
  const ports = new Set<number>();
  for (const line of table.split('\n').slice(1)) {
    const [, local = '', , , , , , , , inode] = line.trim().split(/\s+/);
    if (inodes.has(inode)) ports.add(Number.parseInt(local.split(':')[1] ?? '', 16));
  }
  return ports;
}

async function statOf(pid: number): Promise<readonly string[]> {
  const text = await readFile(`/proc/${String(pid)}/stat`, 'utf8').catch(() => '');
  return text.slice(text.lastIndexOf(')') + 2).split(' ');
}

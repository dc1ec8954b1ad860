import { readdir, readFile } from 'node:fs/promises';

/** Resident memory of a process in MB, and how many files and sockets it has open; null where the system does not tell. */
export interface ProcessHealth {
  readonly rssMb: number | null;
  readonly open: number | null;
}

export async function processHealth(pid: number): Promise<ProcessHealth> {
  try {
    const status = await readFile(`/proc/${String(pid)}/status`, 'utf8');
    const kb = Number(/^VmRSS:\s+(\d+) kB$/m.exec(status)?.[1]);
    return { rssMb: kb / 1024, open: (await readdir(`/proc/${String(pid)}/fd`)).length };
  } catch {
    return { rssMb: null, open: null };
  }
}

const LOOK_EVERY_MS = 250;

/**
 * Watches a process: its memory is what the collector leaves of it, so that only the least of a stretch can be held against another.
 */
export class HealthWatch {
  private least: ProcessHealth | undefined;
  private readonly timer: NodeJS.Timeout;

  constructor(private readonly pid: number) {
    this.timer = setInterval(() => void this.look(), LOOK_EVERY_MS);
  }

  /** The least since the last time. */
  async take(): Promise<ProcessHealth> {
    await this.look();
    const least = this.least ?? { rssMb: null, open: null };
    this.least = undefined;
    return least;
  }

  end(): void {
    clearInterval(this.timer);
  }

  private async look(): Promise<void> {
    const now = await processHealth(this.pid);
    this.least = {
      rssMb: lesser(this.least?.rssMb ?? null, now.rssMb),
      open: lesser(this.least?.open ?? null, now.open),
    };
  }
}

function lesser(a: number | null, b: number | null): number | null {
  return a === null || b === null ? (a ?? b) : Math.min(a, b);
}

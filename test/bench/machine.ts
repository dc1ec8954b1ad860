import { availableParallelism, cpus, totalmem } from 'node:os';

/** What the figures were taken on. */
export interface Machine {
  readonly cores: number;
  readonly processor: string;
  readonly memoryGb: number;
  readonly node: string;
}

export function thisMachine(): Machine {
  return {
    cores: availableParallelism(),
    processor: cpus()[0]?.model ?? 'unknown',
    memoryGb: Math.round(totalmem() / 2 ** 30),
    node: process.version,
  };
}

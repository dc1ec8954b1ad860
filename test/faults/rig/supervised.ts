import { setTimeout as delay } from 'node:timers/promises';
import { until } from '../../../libs/postgres/embedded/processes.js';
import { Ending, FamilyMember, ProcessFamily } from '../../support/process-family.js';
import { WireProxy } from './wire-proxy.js';

export type Role = 'api' | 'worker';

/** The wires that a process speaks through. */
export interface Wires {
  readonly postgres: WireProxy;
  readonly redis: WireProxy;
}

const REST_MS = 200;
const START_MS = 60_000;

/** A process of the product that is started again whenever it ends, as what runs services does it. */
export class Supervised {
  #process: FamilyMember | undefined;
  #isWanted = true;
  #skewMs = 0;
  #running: Promise<void>;

  constructor(
    readonly role: Role,
    readonly wires: Wires,
    private readonly family: ProcessFamily,
    private readonly env: Readonly<Record<string, string>>,
    private readonly clockModule: string,
  ) {
    this.#running = this.#keepRunning();
  }

  /** Ends it by force; another is started. */
  kill(): void {
    if (this.#process !== undefined) process.kill(this.#process.pid, 'SIGKILL');
  }

  /** Tells it to end in good order once it is up, and waits until it has. @returns how it ended */
  async stopsInGoodOrder(timeoutMs: number): Promise<Ending> {
    await until(() => this.#process !== undefined, START_MS);
    const current = this.#process;
    if (current === undefined) throw new Error(`there is no ${this.role}`);
    await current.printed(`${this.role} is up`, START_MS);
    process.kill(current.pid, 'SIGTERM');
    return current.endsWithin(timeoutMs);
  }

  /** Waits until the one that runs now is up. @throws Error where it is not in time */
  async isUp(): Promise<void> {
    await until(() => this.#process !== undefined, START_MS);
    await this.#process?.printed(`${this.role} is up`, START_MS);
  }

  /** From its next start on. */
  skewClock(skewMs: number): void {
    this.#skewMs = skewMs;
  }

  async close(): Promise<void> {
    this.#isWanted = false;
    this.kill();
    await this.#running;
    await Promise.all([this.wires.postgres.close(), this.wires.redis.close()]);
  }

  async #keepRunning(): Promise<void> {
    while (this.#isWanted) {
      const skew = this.#skewMs === 0 ? {} : this.#skewed();
      const started = this.family.start(`apps/${this.role}/main.ts`, { ...this.env, ...skew });
      this.#process = started;
      await started.ended;
      this.#process = undefined;
      await delay(REST_MS);
    }
  }

  #skewed(): Record<string, string> {
    return { NODE_OPTIONS: `--import ${this.clockModule}`, FAULTS_SKEW_MS: String(this.#skewMs) };
  }
}

import { setTimeout as wait } from 'node:timers/promises';
import pg from 'pg';
import { PostgresConnection, type PostgresPoolConfig, PostgresQueueBackend, type QueueBaseOptions } from 'bullmq';

const DEADLOCK_DETECTED = '40P01';
const MOST_TRIES = 5;

/**
 * BullMQ's Postgres backend for a worker, made to wait between failed attempts to fetch a job. By itself it waits only
 * when the connection is refused; a server that is starting up or shutting down answers, with an error, and would be
 * asked again as fast as it can answer.
 */
export class PatientPostgresBackend extends PostgresQueueBackend {
  #interruption = new AbortController();

  constructor(
    config: PostgresPoolConfig,
    queueName: string,
    options: QueueBaseOptions,
    private readonly retryMs: number,
  ) {
    super(new PostgresConnection(config), queueName, { ...options, connection: config }, true, queueName);
  }

  override async moveToActive(token: string, name?: string): Promise<unknown[]> {
    try {
      const fetched: unknown[] = await super.moveToActive(token, name);
      return fetched;
    } catch (error) {
      await this.#pause();
      throw error;
    }
  }

  /** Two workers that end jobs at once may wait for each other's rows: Postgres undoes one of them, which then goes on. */
  override async moveToCompleted(
    ...ended: Parameters<PostgresQueueBackend['moveToCompleted']>
  ): ReturnType<PostgresQueueBackend['moveToCompleted']> {
    for (let tries = 1; ; tries += 1) {
      try {
        return await super.moveToCompleted(...ended);
      } catch (error) {
        if (!isDeadlock(error) || tries >= MOST_TRIES) throw error;
      }
    }
  }

  override async waitForJob(blockSeconds: number): Promise<{ member: string; score: number } | null> {
    try {
      return await super.waitForJob(blockSeconds);
    } catch (error) {
      await this.#pause();
      throw error;
    }
  }

  /** A worker that stops taking jobs calls this: it must not wait out the pause. */
  override async disconnectBlocking(wait?: boolean): Promise<void> {
    this.#interruption.abort();
    await super.disconnectBlocking(wait);
  }

  override async reconnectBlocking(): Promise<void> {
    this.#interruption = new AbortController();
    await super.reconnectBlocking();
  }

  async #pause(): Promise<void> {
    // Rejects only when it is interrupted, which is an end of the pause like any other.
    await wait(this.retryMs, undefined, { signal: this.#interruption.signal }).catch(() => undefined);
  }
}

function isDeadlock(error: unknown): boolean {
  return error instanceof pg.DatabaseError && error.code === DEADLOCK_DETECTED;
}

import { execFile } from 'node:child_process';
import { chmod, mkdir, mkdtemp, readdir, rm, stat, statfs, truncate } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { freePort } from '../../../libs/postgres/embedded/free-port.js';
import { signalProcess } from '../../../libs/postgres/embedded/processes.js';
import { EmbeddedPostgres, startEmbeddedPostgres } from '../../../libs/postgres/embedded/start-embedded-postgres.js';
import { RedisServer, startRedis } from '../../support/start-redis.js';

const run = promisify(execFile);
const DISK = '14g';
/** What is left free on a disk that is called full. */
const CRUMBS_BYTES = 256 * 1024;

/** Postgres and Redis of the rig's own, each on a port that it keeps, on a disk whose size can be changed. */
export class FaultServers {
  private constructor(
    readonly folder: string,
    /** Whether this machine lets the rig have a disk of its own. */
    readonly hasDisk: boolean,
    private postgres: EmbeddedPostgres,
    private redis: RedisServer,
  ) {}

  static async open(): Promise<FaultServers> {
    const folder = await mkdtemp(join(tmpdir(), 'heatbook-faults-'));
    // The embedded server works as another user.
    await chmod(folder, 0o755);
    const hasDisk = await run('mount', ['-t', 'tmpfs', '-o', `size=${DISK},mode=755`, 'tmpfs', folder]).then(
      () => true,
      () => false,
    );
    await mkdir(join(folder, 'redis'));
    const port = await freePort();
    const postgres = await startEmbeddedPostgres({ folder: join(folder, 'postgres'), port });
    return new FaultServers(folder, hasDisk, postgres, await startRedis({ folder: join(folder, 'redis') }));
  }

  get postgresUrl(): URL {
    return new URL(this.postgres.url);
  }

  get redisPort(): number {
    return this.redis.port;
  }

  /** Ends Postgres: `SIGINT` in good order, `SIGQUIT` at once and without a checkpoint, `SIGKILL` like a loss of power. */
  async endPostgres(signal: 'SIGINT' | 'SIGQUIT' | 'SIGKILL'): Promise<void> {
    // It may have ended by itself, as where a disk is too full to recover on.
    if (signal !== 'SIGINT') signalProcess(this.postgres.pid, signal);
    await this.postgres.stop();
  }

  async startPostgres(): Promise<void> {
    const { port } = this.postgres;
    this.postgres = await startEmbeddedPostgres({ folder: join(this.folder, 'postgres'), port });
  }

  async stopRedis(): Promise<void> {
    await this.redis.stop();
  }

  async killRedis(): Promise<void> {
    await this.redis.kill();
  }

  async startRedis(): Promise<void> {
    this.redis = await startRedis({ port: this.redis.port, folder: join(this.folder, 'redis') });
  }

  /** Cuts the end off what the stopped Redis wrote down. @param share what is left of it, 0 to 1 */
  async truncateRedisFile(share: number): Promise<void> {
    const folder = join(this.folder, 'redis', 'appendonlydir');
    for (const name of await readdir(folder)) {
      if (!name.endsWith('.incr.aof')) continue;
      const { size } = await stat(join(folder, name));
      await truncate(join(folder, name), Math.floor(size * share));
    }
  }

  /** Leaves Postgres next to no room. */
  async fillDisk(): Promise<void> {
    const { blocks, bavail, bsize } = await statfs(this.folder);
    await this.#resizeDisk(String((blocks - bavail) * bsize + CRUMBS_BYTES));
  }

  async emptyDisk(): Promise<void> {
    await this.#resizeDisk(DISK);
  }

  async close(): Promise<void> {
    await this.redis.kill();
    await this.postgres.stop();
    if (this.hasDisk) await run('umount', [this.folder]);
    await rm(this.folder, { recursive: true, force: true });
  }

  async #resizeDisk(size: string): Promise<void> {
    await run('mount', ['-o', `remount,size=${size}`, this.folder]);
  }
}

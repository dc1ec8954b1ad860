import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { processStart, until } from '../../../libs/postgres/embedded/processes.js';
import { FaultServers } from './fault-servers.js';

const PATIENCE_MS = 10_000;

it('start a Postgres again that has ended by itself', async () => {
  const servers = await FaultServers.open();
  try {
    const [pid = ''] = (await readFile(join(servers.folder, 'postgres/cluster/postmaster.pid'), 'utf8')).split('\n');
    process.kill(Number(pid), 'SIGQUIT');
    expect(await until(async () => (await processStart(Number(pid))) === undefined, PATIENCE_MS)).toBe(true);
    await servers.endPostgres('SIGQUIT');
    await servers.startPostgres();
    const client = new pg.Client({ connectionString: servers.postgresUrl.href });
    await client.connect();
    expect((await client.query('SELECT 1 AS one')).rows).toEqual([{ one: 1 }]);
    await client.end();
  } finally {
    await servers.close();
  }
});

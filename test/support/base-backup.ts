import {
  chmod,
  chown,
  copyFile,
  lstat,
  mkdir,
  readdir,
  readlink,
  stat,
  symlink,
  writeFile,
  appendFile,
} from 'node:fs/promises';
import { join } from 'node:path';
import pg from 'pg';
import { errorCode } from '../../libs/postgres/embedded/embedded-postgres-error.js';

/** What a copy leaves out: what belongs to the server that runs, and the log of writes, which comes from the archive. */
const LEFT_OUT = /^(pg_wal\/|postmaster\.(pid|opts)$|pg_replslot\/|pg_stat_tmp\/|pgsql_tmp)/;

/** A folder that Postgres, whoever it runs as, can write its archive to. */
export async function makeArchive(folder: string, cluster: string): Promise<void> {
  const { uid, gid } = await stat(cluster);
  await mkdir(folder, { mode: 0o700 });
  await chown(folder, uid, gid);
}

/** Has the cluster archive its log of writes from its next start on. */
export function archiveTo(folder: string, cluster: string): Promise<void> {
  const settings = [
    'archive_mode = on',
    `archive_command = 'test ! -f ${folder}/%f && cp %p ${folder}/%f.part && mv ${folder}/%f.part ${folder}/%f'`,
  ];
  return appendFile(join(cluster, 'postgresql.conf'), `\n${settings.join('\n')}\n`);
}

/** Takes a base backup of a cluster that runs, into a folder that is not there yet. */
export async function takeBaseBackup(url: string, cluster: string, to: string): Promise<void> {
  const client = new pg.Client({ connectionString: url });
  await client.connect();
  try {
    // One session from beginning to end, as Postgres asks for.
    await client.query(`SELECT pg_backup_start('base', fast => true)`);
    await copyTree(cluster, to);
    const { rows } = await client.query<{ labelfile: string }>(
      'SELECT labelfile FROM pg_backup_stop(wait_for_archive => true)',
    );
    await writeLike(cluster, join(to, 'backup_label'), rows[0]?.labelfile ?? '');
  } finally {
    await client.end();
  }
}

/** Makes a cluster of a base backup that, at its first start, goes on to a time (RFC 3339) and no further. */
export async function restoreTo(time: string, backup: string, archive: string, cluster: string): Promise<void> {
  await copyTree(backup, cluster);
  const settings = [
    `restore_command = 'cp ${archive}/%f %p'`,
    `recovery_target_time = '${time}'`,
    `recovery_target_action = 'promote'`,
  ];
  await appendFile(join(cluster, 'postgresql.auto.conf'), `\n${settings.join('\n')}\n`);
  await writeLike(backup, join(cluster, 'recovery.signal'), '');
}

async function writeLike(owned: string, path: string, text: string): Promise<void> {
  const { uid, gid } = await stat(owned);
  await writeFile(path, text, { mode: 0o600 });
  await chown(path, uid, gid);
}

/** Owners and modes with it. What goes away while it is copied is in the log of writes. */
async function copyTree(from: string, to: string, below = ''): Promise<void> {
  const { uid, gid, mode } = await stat(join(from, below));
  await mkdir(join(to, below), { recursive: below === '' });
  await chown(join(to, below), uid, gid);
  for (const name of await readdir(join(from, below))) {
    const path = below === '' ? name : `${below}/${name}`;
    if (LEFT_OUT.test(path) || LEFT_OUT.test(name)) continue;
    await copyOne(from, to, path).catch((error: unknown) => {
      if (errorCode(error) !== 'ENOENT') throw error;
    });
  }
  await chmod(join(to, below), mode);
}

async function copyOne(from: string, to: string, path: string): Promise<void> {
  const found = await lstat(join(from, path));
  if (found.isDirectory()) return copyTree(from, to, path);
  if (found.isSymbolicLink()) return symlink(await readlink(join(from, path)), join(to, path));
  await copyFile(join(from, path), join(to, path));
  await chown(join(to, path), found.uid, found.gid);
}

import { readFile, stat } from 'node:fs/promises';
import { EmbeddedPostgresError } from './embedded-postgres-error.js';

/** The account that Postgres runs under when this process is root: Postgres refuses to run as root. */
export interface ServerAccount {
  readonly uid: number;
  readonly gid: number;
}

/** The traditional id of `nobody` on Linux; elsewhere it is found by name. */
const NOBODY_UID = 65_534;

/**
 * The account to drop to, or undefined when this process is an ordinary user and can run Postgres as itself.
 * A cluster that an ordinary user began is kept under that user, so that both can go on with it.
 *
 * @param clusterFolder where the cluster is, or will be
 * @throws EmbeddedPostgresError when root has no unprivileged account to drop to
 */
export async function serverAccount(clusterFolder: string): Promise<ServerAccount | undefined> {
  if (process.geteuid?.() !== 0) return undefined;
  const owner = await stat(clusterFolder).catch(() => undefined);
  if (owner !== undefined && owner.uid !== 0) return { uid: owner.uid, gid: owner.gid };
  return nobody();
}

/** initdb looks its user up by id, so the account must have an entry. */
async function nobody(): Promise<ServerAccount> {
  const lines = (await readFile('/etc/passwd', 'utf8').catch(() => '')).split('\n').map((line) => line.split(':'));
  const entry = lines.find(([, , uid]) => Number(uid) === NOBODY_UID) ?? lines.find(([name]) => name === 'nobody');
  // Ids are unsigned; some systems write nobody's as -2.
  const [uid, gid] = [Number(entry?.[2]) >>> 0, Number(entry?.[3]) >>> 0];
  if (uid > 0) return { uid, gid };
  throw new EmbeddedPostgresError(
    'Postgres does not run as root and /etc/passwd has no user "nobody" to run it as: start as an ordinary user, or set DATABASE_URL',
  );
}

import { startEmbeddedPostgres } from '../../libs/postgres/embedded/start-embedded-postgres.js';

/** A process that owns an embedded Postgres until it is killed. Prints the connection string and the server's id. */
const { url, pid } = await startEmbeddedPostgres({ folder: process.argv[2] ?? '' });
console.log(JSON.stringify({ url, pid }));

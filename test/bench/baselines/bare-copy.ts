import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import pg from 'pg';
import { from } from 'pg-copy-streams';

/** Two connections: more are slower on two cores. */
const CONNECTIONS = 2;
/** As many as a station posts at once; each statement is a commit, as each batch is. */
const ROWS_A_STATEMENT = 100;

/**
 * Rows a second that bare COPY writes of these texts, into a table with nothing but a number and a text.
 * @throws what Postgres answers
 */
export async function bareCopy(databaseUrl: string, texts: readonly string[]): Promise<number> {
  const clients = Array.from({ length: CONNECTIONS }, () => new pg.Client({ connectionString: databaseUrl }));
  await Promise.all(clients.map((client) => client.connect()));
  try {
    await clients[0]?.query(
      `DROP TABLE IF EXISTS bare_copy;
       CREATE TABLE bare_copy (number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, payload text NOT NULL)`,
    );
    let next = 0;
    const began = performance.now();
    await Promise.all(
      clients.map(async (client) => {
        while (next < texts.length) {
          const rows = texts.slice(next, next + ROWS_A_STATEMENT).map(toRow);
          next += ROWS_A_STATEMENT;
          await pipeline(Readable.from([rows.join('')]), client.query(from('COPY bare_copy (payload) FROM STDIN')));
        }
      }),
    );
    return (texts.length / (performance.now() - began)) * 1000;
  } finally {
    await Promise.all(clients.map((client) => client.end()));
  }
}

function toRow(text: string): string {
  return `${text.replaceAll('\\', '\\\\')}\n`;
}

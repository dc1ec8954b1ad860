import pg from 'pg';

const CONNECTIONS = 32;

/**
 * Rows a second that a prepared INSERT writes of these texts, one row a statement and each durable before the next on its
 * connection.
 * @throws what Postgres answers
 */
export async function bareInsert(databaseUrl: string, texts: readonly string[]): Promise<number> {
  const clients = Array.from({ length: CONNECTIONS }, () => new pg.Client({ connectionString: databaseUrl }));
  await Promise.all(clients.map((client) => client.connect()));
  try {
    await clients[0]?.query(
      `DROP TABLE IF EXISTS bare_insert;
       CREATE TABLE bare_insert (number bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, payload text NOT NULL)`,
    );
    const statement = { name: 'bare-insert', text: 'INSERT INTO bare_insert (payload) VALUES ($1)' };
    let next = 0;
    const began = performance.now();
    await Promise.all(
      clients.map(async (client) => {
        while (next < texts.length) {
          const text = texts[next];
          next += 1;
          await client.query({ ...statement, values: [text] });
        }
      }),
    );
    return (texts.length / (performance.now() - began)) * 1000;
  } finally {
    await Promise.all(clients.map((client) => client.end()));
  }
}

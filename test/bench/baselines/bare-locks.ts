import pg from 'pg';

/** The least that a gate can do: lock the row of a subject, and nothing else. Each connection does one at a time. */
export class BareLocks {
  private constructor(private readonly clients: readonly pg.Client[]) {}

  static async open(databaseUrl: string, connections: number): Promise<BareLocks> {
    const clients = Array.from({ length: connections }, () => new pg.Client({ connectionString: databaseUrl }));
    await Promise.all(clients.map((client) => client.connect()));
    return new BareLocks(clients);
  }

  /**
   * One prepared statement, which is a transaction of its own.
   * @param connection from 0
   * @returns from the statement to its answer, ms
   * @throws Error where the book has no such subject
   */
  async lock(connection: number, key: string): Promise<number> {
    const statement = { name: 'bare-lock', text: 'SELECT key FROM subject WHERE key = $1 FOR UPDATE' };
    const began = performance.now();
    const answer = await this.clients[connection]?.query({ ...statement, values: [key] });
    const tookMs = performance.now() - began;
    if (answer?.rowCount !== 1) throw new Error(`no row of ${key} was locked`);
    return tookMs;
  }

  async close(): Promise<void> {
    await Promise.all(this.clients.map((client) => client.end()));
  }
}

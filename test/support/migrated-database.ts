import { migrate } from '../../libs/postgres/open-database.js';
import { FreshDatabase, freshDatabase } from './fresh-database.js';

let template: Promise<FreshDatabase> | undefined;

async function makeTemplate(): Promise<FreshDatabase> {
  const made = await freshDatabase();
  await migrate(made.url);
  return made;
}

afterAll(async () => {
  await (await template)?.drop();
});

/** A database of one's own with the newest schema. The suite migrates once and copies what came of it. */
export async function migratedDatabase(): Promise<FreshDatabase> {
  template ??= makeTemplate();
  const { url } = await template;
  return freshDatabase(new URL(url).pathname.slice(1));
}

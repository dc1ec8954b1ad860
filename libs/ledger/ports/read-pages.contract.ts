import { Page, PageRequest } from './read-store.js';

/** Reads a list page by page, two items each; `between` runs after every page. */
export async function readPages<T>(
  list: (page: PageRequest) => Promise<Page<T>>,
  between: (pages: number) => Promise<void> = () => Promise.resolve(),
): Promise<T[]> {
  const found: T[] = [];
  let cursor: string | null = null;
  let pages = 0;
  do {
    const page: Page<T> = await list({ limit: 2, cursor });
    if (page.items.length > 2) throw new Error('a page is longer than was asked for');
    found.push(...page.items);
    cursor = page.next;
    pages += 1;
    await between(pages);
  } while (cursor !== null);
  return found;
}

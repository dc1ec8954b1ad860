import { createReadStream } from 'node:fs';
import { access, mkdir, rename, writeFile } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { ServiceClient } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { errorInWords } from '../service/with-service.js';
import { EventPoster } from './event-poster.js';
import { countInWords, rejectionInWords } from './posted-in-words.js';
import { putTrace } from './put-trace.js';
import { readPosted } from './read-posted.js';

/** What became of a file; one that is left waits where it is. */
export interface FileResult {
  readonly file: string;
  readonly state: 'done' | 'failed' | 'left';
  /** What is told of it: the first line is about the whole. */
  readonly words: readonly string[];
}

/** Where files go, beside where they came. */
const DONE = 'done';
const FAILED = 'failed';

const EVENT_FILES = ['.json', '.ndjson', '.jsonl'];

/** Whether a file is one that is posted. */
export function isPosted(name: string): boolean {
  const kind = extname(name).toLowerCase();
  return kind === '.csv' || EVENT_FILES.includes(kind);
}

/** Posts files of a folder one by one, and puts each away by what became of it. */
export class WatchedFolder {
  constructor(
    private readonly folder: string,
    private readonly client: ServiceClient,
    private readonly poster: EventPoster,
    private readonly traceQuery: string,
  ) {}

  /** @throws Error where the folder is not there, or cannot be written into */
  async prepare(): Promise<void> {
    try {
      await access(this.folder);
      for (const name of [DONE, FAILED]) await mkdir(join(this.folder, name), { recursive: true });
    } catch (error) {
      throw new UnusableInput(
        `${this.folder} cannot be watched: ${error instanceof Error ? error.message : String(error)}`,
      );
    }
  }

  /** @throws where the key is refused, or nothing more is waited for: the file stays then */
  async take(name: string): Promise<FileResult> {
    const isTrace = extname(name).toLowerCase() === '.csv';
    return isTrace ? this.takeTrace(name) : this.takeEvents(name);
  }

  private async takeTrace(file: string): Promise<FileResult> {
    const put = await putTrace(this.client, join(this.folder, file), this.traceQuery);
    if (put.state === 'later')
      return { file, state: 'left', words: [`${file} waits: ${errorInWords(put.error, this.client.url)}`] };
    if (put.state === 'kept') return this.done(file, `${file}: ${put.words}`);
    const { status, detail, errors } = put.problem;
    // What is said in the detail already is not said again.
    const more = errors.filter((error) => !detail.includes(error.detail));
    const words = [
      `${file}: ${String(status)} ${detail}`,
      ...more.map((error) => `  ${error.pointer}: ${error.detail}`),
    ];
    return this.failed(file, words);
  }

  private async takeEvents(file: string): Promise<FileResult> {
    try {
      const text = createReadStream(join(this.folder, file), { encoding: 'utf8' });
      for await (const items of readPosted(text as AsyncIterable<string>)) await this.poster.post(items);
    } catch (error) {
      if (!(error instanceof UnusableInput)) throw error;
      return this.failed(file, [`${file}: ${error.message}`]);
    }
    const posted = await this.poster.settle();
    const words = `${file}: ${countInWords(posted)}`;
    if (posted.rejected.length === 0) return this.done(file, words);
    return this.failed(file, [words, ...posted.rejected.flatMap((rejected) => rejectionInWords(file, rejected))]);
  }

  private async done(file: string, words: string): Promise<FileResult> {
    await rename(join(this.folder, file), await this.freePath(DONE, file));
    return { file, state: 'done', words: [words] };
  }

  /** What is wrong stands beside the file before the file is there. */
  private async failed(file: string, words: readonly string[]): Promise<FileResult> {
    const path = await this.freePath(FAILED, file);
    await writeFile(`${path}.problem.txt`, `${words.join('\n')}\n`);
    await rename(join(this.folder, file), path);
    return { file, state: 'failed', words };
  }

  /** A name that is taken by a file of before gets a number. */
  private async freePath(place: string, file: string): Promise<string> {
    const kind = extname(file);
    for (let n = 1; ; n += 1) {
      const name = n === 1 ? file : `${file.slice(0, file.length - kind.length)}.${String(n)}${kind}`;
      const path = join(this.folder, place, name);
      const isFree = await access(path).then(
        () => false,
        () => true,
      );
      if (isFree) return path;
    }
  }
}

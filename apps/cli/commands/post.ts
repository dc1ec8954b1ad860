import { createReadStream } from 'node:fs';
import { access } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { loadConfig } from '../../../libs/config/load-config.js';
import { NotDrained } from '../../../libs/station-client/errors.js';
import { stopSignal } from '../../house/stop-signal.js';
import { wholeSeconds } from '../clear/read-request.js';
import { EventPoster, Posted } from '../post/event-poster.js';
import { countInWords, rejectionInWords } from '../post/posted-in-words.js';
import { readPosted } from '../post/read-posted.js';
import { lookInto, Look } from '../post/settled-files.js';
import { FileResult, isPosted, WatchedFolder } from '../post/watched-folder.js';
import { ProgressLine } from '../service/progress-line.js';
import { ServiceClient } from '../service/service-client.js';
import { UnusableInput } from '../service/unusable-input.js';
import { withService } from '../service/with-service.js';

export interface PostOptions {
  /** Folder to watch, in place of posting one file. */
  readonly watch?: string;
  /** With `watch`: take what is there, and end. */
  readonly once?: boolean;
  readonly spool?: string;
  /** Seconds, as it was typed: for what was read to be answered for. */
  readonly timeout: string;
  readonly traceQuery?: string;
  readonly json?: boolean;
}

/** Something that was posted is not in the book. */
const REJECTED = 3;
/** Between two looks into a watched folder. */
const LOOK_MS = 1_000;

/**
 * Posts the events of a file or of standard input, or files of a folder as they come.
 * @returns the exit code: 0 all is in the book, 1 not all was answered for, 2 it cannot be read, 3 something was rejected
 */
export function post(path: string | undefined, options: PostOptions): Promise<number> {
  return withService(async (client) => {
    const { watch } = options;
    if ((path === undefined) === (watch === undefined)) {
      throw new UnusableInput('Name a file of events, - for standard input, or a folder with --watch.');
    }
    return watch === undefined ? postText(path ?? '-', options) : watchFolder(watch, client, options);
  });
}

async function openPoster(spool: string | undefined, progress: ProgressLine): Promise<EventPoster> {
  const { url, key } = loadConfig().client;
  if (key === undefined) throw new UnusableInput('HEATBOOK_KEY is not set: put the key of the station there.');
  return EventPoster.open({
    ...{ url, key, ...(spool !== undefined && { spool }) },
    trouble: (words) => {
      progress.end();
      process.stderr.write(`${words}\n`);
    },
    progress: (done, known) => {
      progress.tell('events answered for', done, known);
    },
  });
}

async function postText(path: string, { spool, timeout, json = false }: PostOptions): Promise<number> {
  const timeoutMs = 1_000 * wholeSeconds('--timeout', timeout);
  const name = path === '-' ? '' : path;
  const text = path === '-' ? process.stdin.setEncoding('utf8') : await fileText(path);
  const progress = new ProgressLine(process.stderr);
  const poster = await openPoster(spool, progress);
  try {
    for await (const items of readPosted(text as AsyncIterable<string>)) await poster.post(items);
    return tellPosted(name, await poster.settle(timeoutMs), json, progress);
  } catch (error) {
    progress.end();
    if (error instanceof UnusableInput && name !== '')
      throw new UnusableInput(`${name}: ${error.message}`, { cause: error });
    if (error instanceof NotDrained) tellPosted(name, poster.take(), json, progress);
    if (poster.pending > 0) process.stderr.write(`${waitingInWords(poster.pending, spool)}\n`);
    throw error;
  } finally {
    await poster.close();
  }
}

async function fileText(path: string): Promise<NodeJS.ReadableStream> {
  await access(path).catch((error: unknown) => {
    throw new UnusableInput(`${path} cannot be read: ${error instanceof Error ? error.message : String(error)}`);
  });
  return createReadStream(path, { encoding: 'utf8' });
}

function tellPosted(name: string, posted: Posted, json: boolean, progress: ProgressLine): number {
  progress.end();
  for (const rejected of posted.rejected) process.stderr.write(`${rejectionInWords(name, rejected).join('\n')}\n`);
  process.stdout.write(json ? `${JSON.stringify(posted, null, 2)}\n` : `${countInWords(posted)}\n`);
  return posted.rejected.length > 0 ? REJECTED : 0;
}

function waitingInWords(pending: number, spool: string | undefined): string {
  const what = pending === 1 ? 'One event was not answered for.' : `${String(pending)} events were not answered for.`;
  return spool === undefined
    ? `${what} Post the same again later: what is in the book already is not doubled.`
    : `${what} What waits is in ${spool}, and goes with the next "heatbook post --spool ${spool}".`;
}

async function watchFolder(folder: string, client: ServiceClient, options: PostOptions): Promise<number> {
  const { spool = join(folder, '.heatbook-spool'), once = false, json = false, traceQuery = '' } = options;
  const progress = new ProgressLine(process.stderr);
  await access(folder).catch(() => {
    throw new UnusableInput(`${folder} is not there: make the folder that is to be watched.`);
  });
  const poster = await openPoster(spool, progress);
  const watched = new WatchedFolder(folder, client, poster, traceQuery);
  const stop = new AbortController();
  const isStopped = (): boolean => stop.signal.aborted;
  const stopped = stopSignal().then(async () => {
    stop.abort();
    await poster.close();
  });
  try {
    await watched.prepare();
    if (!once)
      process.stderr.write(`Watching ${folder} for .csv traces and .json, .ndjson, .jsonl events; Ctrl-C ends it.\n`);
    // What waited in the spool from before goes first: its file may be gone.
    const { rejected } = await poster.settle();
    for (const one of rejected) process.stderr.write(`${rejectionInWords(spool, one).join('\n')}\n`);
    const tell = fileTeller(json, progress);
    const states = new Set<FileResult['state']>();
    let before: Look = new Map();
    for (let round = 0; !isStopped(); round += 1) {
      const { look, settled } = await lookInto(folder, before);
      before = look;
      for (const name of inOrder(settled)) {
        const result = await watched.take(name);
        tell(result);
        states.add(result.state);
        // Where the service is away, the next file would fare no better.
        if (isStopped() || result.state === 'left') break;
      }
      if (once && round > 0) return states.has('left') ? 1 : states.has('failed') ? REJECTED : 0;
      await Promise.race([delay(LOOK_MS), stopped]);
    }
    return 0;
  } catch (error) {
    // Asked to stop while something was waited for: what is not answered for stays in folder and spool.
    if (isStopped() && error instanceof NotDrained) return 0;
    throw error;
  } finally {
    progress.end();
    await poster.close();
  }
}

/** Traces before the events that name them, so that each heat is judged once. */
function inOrder(names: readonly string[]): readonly string[] {
  const posted = names.filter(isPosted);
  const isTrace = (name: string): boolean => /\.csv$/i.test(name);
  return [...posted.filter(isTrace), ...posted.filter((name) => !isTrace(name))];
}

/** Tells of each file once, though one that is left comes again with every look. */
function fileTeller(json: boolean, progress: ProgressLine): (result: FileResult) => void {
  let left = '';
  return (result) => {
    const words = result.words.join('\n');
    if (result.state === 'left' && words === left) return;
    left = result.state === 'left' ? words : '';
    progress.end();
    if (json) process.stdout.write(`${JSON.stringify(result)}\n`);
    else process.stderr.write(`${result.state === 'failed' ? 'FAILED ' : ''}${words}\n`);
  };
}

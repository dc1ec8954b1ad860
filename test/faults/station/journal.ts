import { readFileSync } from 'node:fs';
import { type FileHandle, open } from 'node:fs/promises';

/** An event as the station has it in its own list. */
export interface JournalEvent {
  readonly id: string;
  readonly type: string;
  readonly subject: string;
  readonly [member: string]: unknown;
}

/** What a station was about to tell, in its order, and what of it its client has said to be kept. */
export interface Listed {
  readonly events: readonly JournalEvent[];
  /** How many of them, from the first, `post` has answered for. */
  readonly kept: number;
}

/**
 * The station's own list, apart from the spool of the client: an event stands in it before it is posted, and a mark after that once
 * `post` has resolved. Each line is on the disk before the next step.
 */
export class Journal {
  private constructor(private readonly handle: FileHandle) {}

  static async open(file: string): Promise<Journal> {
    const handle = await open(file, 'a');
    // Cuts off from what comes what a kill has left of a line.
    await handle.appendFile('\n');
    return new Journal(handle);
  }

  async intend(event: object): Promise<void> {
    await this.#write(JSON.stringify(event));
  }

  async kept(): Promise<void> {
    await this.#write('kept');
  }

  async #write(line: string): Promise<void> {
    await this.handle.appendFile(`${line}\n`);
    await this.handle.datasync();
  }
}

/** Lines that a kill has torn stand for events that were never posted. */
export function readJournal(file: string): Listed {
  const events: JournalEvent[] = [];
  let kept = 0;
  for (const line of readFileSync(file, 'utf8').split('\n')) {
    if (line === 'kept') kept += 1;
    else if (line.startsWith('{') && line.endsWith('}')) {
      const event = JSON.parse(line) as JournalEvent;
      // After a kill the last one is posted, and so listed, once more.
      if (events.at(-1)?.id !== event.id) events.push(event);
    }
  }
  return { events, kept };
}

import { Readable } from 'node:stream';
import type { NoteAsSeen } from '../../../libs/ledger/stream/changes-as-seen.js';
import type { FeedEye, FeedListener } from '../../../libs/ledger/stream/feed-listener.js';
import { formatPlace } from '../../../libs/ledger/stream/stream-place.js';
import type { ChangePlace } from '../../../libs/ledger/ports/change-store.js';

/** A listener that has not read so much, in bytes, is let go: it comes again and goes on from where it was. */
const MOST_UNREAD = 256 * 1024;
/** Below so much unread, in bytes, there is room for more of what it missed. */
const ROOM = 64 * 1024;
/** How long a browser waits before it comes again. */
const RETRY_MS = 2000;

/** The events of one listener, as server-sent events (WHATWG HTML, section 9.2). */
export class StreamListener implements FeedListener {
  readonly events: Readable;
  private reads: () => void = () => undefined;
  private wasFull = false;
  private hasEnded = false;

  /** @param nowMs since 1970 */
  constructor(
    readonly eye: FeedEye,
    private readonly nowMs: () => number,
  ) {
    // Asked for more whenever less than the mark is unread.
    this.events = new Readable({
      highWaterMark: ROOM,
      read: () => {
        this.reads();
      },
    });
    this.events.once('close', () => {
      this.reads();
    });
    this.push(`retry: ${String(RETRY_MS)}\n\n`);
  }

  begin(event: 'hello' | 'reset', place: ChangePlace): void {
    this.push(`${this.idLine(place)}event: ${event}\ndata: {}\n\n`);
  }

  /**
   * Tells of changes. The id stands with the last message of each note, so that a connection that is lost between two skips none;
   * notes of which this listener sees nothing move its place on.
   */
  tell(notes: readonly NoteAsSeen[]): void {
    const last = notes.at(-1);
    if (last === undefined) return;
    const text = notes.map(({ place, messages }) =>
      messages.map((message, n) => textOf(message, n === messages.length - 1 ? this.idLine(place) : '')).join(''),
    );
    this.push(`${text.join('')}${last.messages.length === 0 ? `${this.idLine(last.place)}\n` : ''}`);
  }

  async room(): Promise<void> {
    if (this.events.readableLength < ROOM || this.events.destroyed || this.hasEnded) return;
    await new Promise<void>((resolve) => {
      this.reads = resolve;
    });
  }

  /** A comment, by which both ends notice a connection that is gone. One that was full at the last as well is let go. */
  beat(): void {
    const isFull = this.events.readableLength >= ROOM;
    if (isFull && this.wasFull) this.events.destroy();
    this.wasFull = isFull;
    this.push(':\n\n');
  }

  end(): void {
    if (!this.hasEnded) this.events.push(null);
    this.hasEnded = true;
    this.reads();
  }

  private push(text: string): void {
    if (this.events.destroyed || this.hasEnded) return;
    if (this.events.readableLength > MOST_UNREAD) this.events.destroy();
    else this.events.push(text);
  }

  private idLine(place: ChangePlace): string {
    return `id: ${formatPlace(place, this.nowMs())}\n`;
  }
}

function textOf({ event, data }: NoteAsSeen['messages'][number], idLine: string): string {
  return `${idLine}event: ${event}\ndata: ${JSON.stringify(data)}\n\n`;
}

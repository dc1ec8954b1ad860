import { once } from 'node:events';
import type { NoteAsSeen } from '../../../libs/ledger/stream/changes-as-seen.js';
import { StreamListener } from './stream-listener.js';

const eye = { key: 'house', reads: () => Promise.reject.bind(Promise) as never, clearances: true };
const place = { transaction: '12', number: '3' };
const entry = (detail: string): NoteAsSeen['messages'][number] => ({
  event: 'entry',
  data: { stream: detail, subject: null, seq: 1, type: 't', time: 't', recordedAt: 't' },
});
const big: NoteAsSeen = { place, messages: [entry('x'.repeat(100_000))] };

const make = (): StreamListener => new StreamListener(eye, () => 7);
const said = (listener: StreamListener): string => String(listener.events.read() ?? '');

describe('A listener of the stream', () => {
  it('is given the id with the last message of each commit', () => {
    const listener = make();
    expect(said(listener)).toBe('retry: 2000\n\n');
    listener.begin('hello', place);
    expect(said(listener)).toBe('id: 12-3-7\nevent: hello\ndata: {}\n\n');
    listener.tell([{ place, messages: [entry('a'), entry('b')] }]);
    const [first, second] = said(listener).split('\n\n');
    expect(first).toMatch(/^event: entry\ndata: {"stream":"a"/);
    expect(second).toMatch(/^id: 12-3-7\nevent: entry\ndata: {"stream":"b"/);
  });

  it('is moved on by an id alone over what it may not see', () => {
    const listener = make();
    said(listener);
    listener.tell([
      { place: { ...place, number: '2' }, messages: [] },
      { place, messages: [] },
    ]);
    expect(said(listener)).toBe('id: 12-3-7\n\n');
  });

  it('is let go once it leaves too much unread, and not for one great message', async () => {
    const listener = make();
    for (let told = 0; told < 3; told += 1) listener.tell([big]);
    expect(listener.events.destroyed).toBe(false);
    const closed = once(listener.events, 'close');
    listener.tell([big]);
    await closed;
    expect(listener.events.destroyed).toBe(true);
  });

  it('is let go where it reads nothing from one beat to the next', () => {
    const [idle, reader] = [make(), make()];
    for (const listener of [idle, reader]) {
      listener.tell([big]);
      listener.beat();
    }
    said(reader);
    for (const listener of [idle, reader]) listener.beat();
    expect([idle.events.destroyed, reader.events.destroyed]).toEqual([true, false]);
  });

  it('has room again once it has read, and is not waited for once it has ended', async () => {
    const [reader, ended] = [make(), make()];
    for (const listener of [reader, ended]) listener.tell([big]);
    const waits = [reader.room(), ended.room()];
    said(reader);
    said(reader);
    ended.end();
    ended.end();
    await Promise.all(waits);
    ended.tell([big]);
    expect(ended.events.destroyed).toBe(false);
  });
});

import { STATION_EVENT_TYPES } from '../../domain/events/station-event.js';
import { seal } from '../../evidence/seal.js';
import { checkEvent } from './check-event.js';
import { parseStored } from './parse-stored.js';
import { FULL_DATA, sampleEvent } from './spec-support/sample-events.js';
import { toIncoming } from './to-incoming.js';

function payloadOf(event: unknown): string {
  const check = checkEvent(event);
  if (!check.ok) throw new Error(JSON.stringify(check.faults));
  return toIncoming(check.event, seal).payload;
}

describe('reading an event back from the inbox', () => {
  it.each(STATION_EVENT_TYPES)('gives %s to the fold as it was sent', (type) => {
    const sent = sampleEvent(type, { ext: 'kept, but no concern of the fold' });
    expect(parseStored(payloadOf(sent))).toEqual({
      type,
      subject: sent['subject'],
      station: 'rework-3',
      order: { at: '2031-05-09T12:06:30.250000000Z', source: '/stations/rework-3', id: '0198-a1' },
      time: '2031-05-09T14:06:30.25+02:00',
      data: FULL_DATA[type],
    });
  });

  it('gives empty data to an event that came without', () => {
    const { data, ...rest } = sampleEvent('heatbook.unit.scrapped.v1');
    expect(data).toEqual({});
    expect(parseStored(payloadOf(rest)).data).toEqual({});
  });

  it('gives an event of a type that it does not know to the fold, for which it fails alone', () => {
    const { type } = parseStored('{"type":"toString","time":"2031-05-09T12:06:30Z","source":"/stations/a"}');
    expect(type).toBe('toString');
  });

  it('refuses what has no time', () => {
    expect(() => parseStored('{"type":"heatbook.unit.scrapped.v1","time":"noon","source":"/stations/a"}')).toThrow(
      RangeError,
    );
  });

  it('hashes what the event says: extension attributes are kept, and may differ from try to try', () => {
    const incoming = (extensions: Record<string, unknown>) => {
      const check = checkEvent(sampleEvent('heatbook.site.cleaned.v1', extensions));
      if (!check.ok) throw new Error('the sample is no event');
      return toIncoming(check.event, seal);
    };
    const bare = incoming({});
    const traced = incoming({ traceparent: '00-1' });
    expect(bare.contentHash).toBe(seal.sha256Hex(bare.payload));
    expect(traced.payload).toContain('"traceparent":"00-1"');
    expect([traced.contentHash, incoming({ traceparent: '00-2' }).contentHash]).toEqual([
      bare.contentHash,
      bare.contentHash,
    ]);
  });
});

import { HOLD_STAGES } from '../../../libs/ledger/holds/hold-stage.js';
import { count, oneOf, orNull, record, ref, Schema, text, time } from './schema-parts.js';

const id = 'id?';

/** Messages of the event stream, as their listeners get them. */
export const STREAM_SCHEMAS: Record<string, Schema> = {
  StreamMessage: {
    oneOf: [
      record({ event: { const: 'hello' }, id: text, data: record({}) }, 'It begins now.'),
      record(
        { event: { const: 'reset' }, id: text, data: record({}) },
        'Something was missed: ask for all that is shown.',
      ),
      record({ event: { const: 'entry' }, [id]: text, data: ref('StreamEntry') }),
      record({ event: { const: 'hold' }, [id]: text, data: ref('StreamHold') }),
      record({ event: { const: 'clearance' }, [id]: text, data: ref('StreamClearance') }),
    ],
  },
  StreamEntry: record(
    {
      stream: text,
      subject: orNull({
        oneOf: [
          record({ kind: { const: 'unit' }, assembly: text, serial: text }),
          record({ kind: { const: 'device' }, device: text }),
          record({ kind: { const: 'station' }, station: text }),
        ],
      }),
      seq: count,
      type: text,
      time,
      recordedAt: time,
    },
    'An entry of a ledger. `subject` is null for ledgers that are of no unit, device or station.',
  ),
  StreamHold: record(
    {
      id: text,
      state: oneOf('open', 'released', 'withdrawn'),
      stage: oneOf(...HOLD_STAGES),
      reason: text,
      subject: ref('HoldSubject'),
      unit: orNull(record({ assembly: text, serial: text })),
      customer: orNull(text),
      station: orNull(text),
    },
    'A hold that is new or not as it was, as it is now.',
  ),
  StreamClearance: record(
    {
      id: text,
      state: oneOf('granted', 'used', 'returned', 'lapsed'),
      ...{ 'assembly?': text, 'serial?': text, 'device?': text },
      station: text,
      expiresAt: time,
    },
    'A clearance that is new or not as it was, as it is now.',
  ),
};

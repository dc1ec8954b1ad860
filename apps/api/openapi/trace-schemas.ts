import { count, figure, flag, hash, list, oneOf, orNull, record, Schema, text } from './schema-parts.js';

const slope = record({ cPerS: figure, fromS: figure, toS: figure, samples: count });
const stretch = { fromS: figure, toS: figure };
const dropped = record({ missing: count, open: count, outOfRange: count, spikes: count });

const channelMembers: Record<string, Schema> = {
  name: text,
  why: text,
  samples: record({
    count,
    used: count,
    dropped,
    gaps: list(record({ ...stretch, bridged: flag })),
    gapSeconds: figure,
  }),
};

/** Thermocouple traces, as routes answer them. */
export const TRACE_SCHEMAS: Record<string, Schema> = {
  KeptTrace: record(
    {
      name: text,
      contentHash: hash,
      rows: count,
      channels: list(text),
      unit: oneOf('C', 'mV'),
      notes: list(text),
    },
    'A trace that is kept, and how it was understood. `contentHash` is over the uploaded bytes.',
  ),
  TraceCurve: record(
    {
      trace: text,
      liquidusC: orNull(figure),
      seconds: list(figure),
      channels: list(
        record({
          name: text,
          state: oneOf('ok', 'open', 'stuck', 'suspect'),
          peakC: orNull(figure),
          atC: list(orNull(figure)),
        }),
      ),
      above: list(record({ channel: text, ...stretch })),
      samples: count,
      kept: count,
    },
    'Temperatures in C at `seconds` of the trace: a reading, a place on the line between two, or null in a gap. `above`: stretches at or above the line.',
  ),
  TraceAnalysis: record(
    {
      trace: text,
      contentHash: hash,
      channels: list({ oneOf: [openChannel(), readChannel()] }),
      'spreadC?': figure,
      'spread?': record({ hottest: text, coolest: text, over: list(text) }),
      rules: rules(),
      notes: list(text),
    },
    'Temperatures in C, times in s of the trace, slopes in C/s. A figure that the readings do not give is left out.',
  ),
};

function openChannel(): Schema {
  return record(
    { ...channelMembers, state: { const: 'open' } },
    'No thermocouple, or a broken one: it has no figures.',
  );
}

function readChannel(): Schema {
  return record({
    ...channelMembers,
    state: oneOf('ok', 'stuck', 'suspect'),
    peakC: figure,
    peakAtS: figure,
    secondsAboveLiquidus: figure,
    excursions: list(record({ ...stretch, seconds: figure })),
    secondsUnseen: figure,
    secondsWithin5OfPeak: figure,
    'soakSeconds?': figure,
    'maxRiseCPerS?': figure,
    'maxRise?': slope,
    'maxFallCPerS?': figure,
    'maxFall?': slope,
    'secondsFrom25ToPeak?': figure,
    'from25Basis?': oneOf('crossing', 'first-reading'),
    over: record(stretch),
  });
}

/** The figures behind an analysis; all but the line are choices of the house. */
function rules(): Schema {
  return record({
    liquidusC: figure,
    'soakFromC?': figure,
    'soakToC?': figure,
    rampWindowS: figure,
    maxGapS: figure,
    intervalS: figure,
    plausibleFromC: figure,
    plausibleToC: figure,
    fullScaleC: list(figure),
    spikeCPerS: figure,
    spikeFloorC: figure,
    spikeMaxS: figure,
    movingC: figure,
    stuckC: figure,
    droppedShare: figure,
    openShare: figure,
    dipS: figure,
    dipC: figure,
  });
}

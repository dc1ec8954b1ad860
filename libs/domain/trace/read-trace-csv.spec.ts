import fc from 'fast-check';
import { traceFrom, traceRead } from '../../../test/support/trace-samples.js';
import { MOST_CHANNELS, MOST_ROWS, readTraceCsv } from './read-trace-csv.js';
import { MISSING, OPEN, READ, Trace } from './trace.js';
import { TraceProblem } from './trace-problem.js';

function problemsOf(csv: string): readonly TraceProblem[] {
  const reading = readTraceCsv(csv);
  return reading.ok ? [] : reading.problems;
}

function columns(trace: Trace): Record<string, number[]> {
  return Object.fromEntries(trace.channels.map(({ name, values }) => [name, [...values]]));
}

function secondsOf(csv: string): number[] {
  return [...traceFrom(csv).seconds].map((time) => Math.round(time * 1e6) / 1e6);
}

describe('a trace file', () => {
  it('is read as seconds and one channel a column', () => {
    const trace = traceFrom('s,Joint,Die\n0,25.1,25\n0.2,25.3,25.5\n');
    expect([...trace.seconds]).toEqual([0, 0.2]);
    expect(columns(trace)).toEqual({ Joint: [25.1, 25.3], Die: [25, 25.5] });
    expect(trace.channels.map(({ unit }) => unit)).toEqual(['C', 'C']);
    expect(trace.notes).toEqual([]);
  });

  it('may come with a byte order mark, CRLF, blank and comment lines, quotes and a trailing delimiter', () => {
    const trace = traceFrom(
      '\uFEFF# a log\r\n\r\n"Time (s)","Joint ""U7"" [°C]",\r\n0,"25,5",\r\n# more\r\n1,26,\r\n\r\n',
    );
    expect(columns(trace)).toEqual({ 'Joint "U7"': [25.5, 26] });
  });

  it.each([
    ['semicolons', 'Zeit [s];TC1 [°C];TC2 [°C]\n0,0;25,1;1.025,5\n0,5;26,2;30\n'],
    ['tabs', 'Zeit [s]\tTC1 [°C]\tTC2 [°C]\n0,0\t25,1\t1.025,5\n0,5\t26,2\t30\n'],
  ])('may have decimal commas between %s', (_, csv) => {
    const trace = traceFrom(csv);
    expect([...trace.seconds]).toEqual([0, 0.5]);
    expect(columns(trace)).toEqual({ TC1: [25.1, 26.2], TC2: [1025.5, 30] });
  });

  it('cannot have decimal commas between commas, and says what to do', () => {
    const [problem] = problemsOf('s,TC1,TC2\n0,0,25,1,25,3\n');
    expect(problem).toMatchObject({ code: 'ambiguous-decimals', line: 2 });
    expect(problem?.remedy).toContain('semicolons');
  });

  it.each([
    ['TC1 (°C)', 'TC1', 'C', 30],
    ['Joint [C]', 'Joint', 'C', 30],
    ['Die degC', 'Die', 'C', 30],
    ['Body (°F)', 'Body', 'C', -10 / 9],
    ['Ch 3 (mV)', 'Ch 3', 'mV', 30],
    ['TC (K)', 'TC (K)', 'C', 30],
    ['C', 'C', 'C', 30],
    ['F', 'F', 'C', 30],
    ['Corner (U7)', 'Corner (U7)', 'C', 30],
  ])('understands the header %s', (header, name, unit, value) => {
    const [channel] = traceFrom(`s,${header}\n0,30\n1,30\n`).channels;
    expect(channel).toMatchObject({ name, unit });
    expect(channel?.values[0]).toBeCloseTo(value, 10);
  });

  it('takes units from a row below the header', () => {
    const trace = traceFrom('Time;TC1;TC2\nms;°C;mV\n0;25;1,5\n200;26;1,6\n');
    expect([...trace.seconds]).toEqual([0, 0.2]);
    expect(trace.channels.map(({ name, unit }) => [name, unit])).toEqual([
      ['TC1', 'C'],
      ['TC2', 'mV'],
    ]);
  });

  it('takes columns without a unit to be in the unit it is told', () => {
    const csv = 's,TC1,TC2 (°C)\n0,1.0,25\n1,1.1,26\n';
    const trace = traceRead(readTraceCsv(csv, { unit: 'mV' }));
    expect(trace.channels.map(({ unit }) => unit)).toEqual(['mV', 'C']);
  });

  it('keeps missing readings, open circuits and readings apart, with no NaN for any', () => {
    const [channel] = traceFrom('s,TC1\n0,25\n1,\n2,OPEN\n3,----\n4,NaN\n5,OL\n6,25.5 °C\n7,1e999\n').channels;
    expect([...(channel?.marks ?? [])]).toEqual([READ, MISSING, OPEN, MISSING, MISSING, OPEN, READ, OPEN]);
    expect([...(channel?.values ?? [])]).toEqual([25, 0, 0, 0, 0, 0, 25.5, 0]);
  });

  it('passes over a preamble, an index column, and columns that hold no temperature', () => {
    const trace = traceFrom(
      'Logger 12\nInterval,0.2 s\nNo.,Time (s),TC1 (°C),Fan (%),Remark\n1,0.0,25,80,start\n2,0.2,26,80,\n',
    );
    expect([...trace.seconds]).toEqual([0, 0.2]);
    expect(columns(trace)).toEqual({ TC1: [25, 26] });
    expect(trace.notes.join('|')).toMatch(/2 lines before the header.*Fan.*no temperature.*Remark holds words only/);
  });

  it('gives columns a name where none is written, and tells equal names apart', () => {
    expect(traceFrom('0,25,26\n1,25,26\n').channels.map(({ name }) => name)).toEqual(['channel 1', 'channel 2']);
    expect(traceFrom('Logger 12\n0,25\n1,26\n').channels.map(({ name }) => name)).toEqual(['channel 1']);
    expect(traceFrom('s,TC,TC\n0,25,26\n1,25,26\n').channels.map(({ name }) => name)).toEqual(['TC', 'TC (2)']);
  });

  it('leaves out a last line that was cut off', () => {
    const trace = traceFrom('s,TC1,TC2\n0,25,26\n1,26,27\n2,2');
    expect([...trace.seconds]).toEqual([0, 1]);
    expect(trace.notes).toEqual(['line 4, the last, is cut off; it was left out']);
  });

  it('names the line of everything it cannot read', () => {
    expect(problemsOf('s,TC1\n0,25\n1,hot\nsoon,26\n2,27,28,,,29\n3,"4\n')).toEqual([
      expect.objectContaining({ code: 'bad-time', line: 4 }),
      expect.objectContaining({ code: 'row-too-long', line: 5 }),
      expect.objectContaining({ code: 'open-quote', line: 6 }),
      expect.objectContaining({ code: 'bad-number', line: 3 }),
    ]);
  });

  it.each([
    ['', 'empty'],
    ['\n\n# only words\n', 'empty'],
    ['hello\nworld\n', 'no-readings'],
    ['s,TC1\n', 'no-readings'],
    ['s,TC1\n1,25\n1,26\n1,27\n', 'bad-time'],
    ['s,TC1\n0,25\n00:00:01,26\n', 'bad-time'],
  ])('is turned away where it holds no trace: %j', (csv, code) => {
    expect(problemsOf(csv)[0]).toMatchObject({ code });
    expect(problemsOf(csv)[0]?.remedy).not.toBe('');
  });

  it('is read in no time even where it is hostile', () => {
    const blanks = ' '.repeat(500_000);
    const opens = '('.repeat(500_000);
    expect(problemsOf(`s,T${blanks}x\n0,1${blanks}x\n`)[0]).toMatchObject({ code: 'no-readings' });
    expect(problemsOf(`s,${opens}\n0,25\n1,2${blanks}6\n`)[0]).toMatchObject({ code: 'bad-number', line: 3 });
    expect(problemsOf(`s,T\n0,25\n1${blanks}:,2\n`)[0]).toMatchObject({ code: 'bad-time', line: 3 });
  });

  it('is limited in rows and channels', () => {
    const wide = Array.from({ length: MOST_CHANNELS + 2 }, (_, index) => index).join(',');
    expect(problemsOf(`${wide}\n${wide}\n`)[0]).toMatchObject({ code: 'too-many-channels' });
    expect(problemsOf(`s,T\n${'1,2\n'.repeat(MOST_ROWS + 1)}`)[0]).toMatchObject({ code: 'too-many-rows' });
  });
});

describe('the times of a trace file', () => {
  it.each([
    ['seconds as they stand', ['-1.5', '0', '1.5'], [-1.5, 0, 1.5]],
    ['times of day', ['09:59:59', '10:00:00', '10:00:01'], [0, 1, 2]],
    ['fractions of a second', ['09:59:59.8', '10:00:00,0', '10:00:00:200'], [0, 0.2, 0.4]],
    ['midnight', ['23:59:59.5', '00:00:00.0', '00:00:00.5'], [0, 0.5, 1]],
    ['afternoon', ['11:59:59 AM', '12:00:00 PM', '12:00:01 PM'], [0, 1, 2]],
    ['minutes and seconds', ['00:59', '01:00', '01:01.5'], [0, 1, 2.5]],
    ['dates', ['2026-01-31 23:59:59', '2026-02-01T00:00:00Z', '2026-02-01 00:00:01'], [0, 1, 2]],
    ['dates day first', ['31.01.2026 23:59:59', '01.02.2026 00:00:00', '01.02.2026 00:00:01'], [0, 1, 2]],
    ['seconds since an epoch', ['1767225600.5', '1767225601', '1767225601.5'], [0, 0.5, 1]],
  ])('may be %s', (_, cells, seconds) => {
    expect(secondsOf(`time;TC1\n${cells.map((cell) => `${cell};25`).join('\n')}\n`)).toEqual(seconds);
  });

  it('may be parted into a date and a time', () => {
    const csv = 'Date,Time,TC1\n2026/01/31,23:59:59,25\n2026/02/01,00:00:01,26\n';
    expect(secondsOf(csv)).toEqual([0, 2]);
    expect(columns(traceFrom(csv))).toEqual({ TC1: [25, 26] });
  });

  it('come out the same from a file written backwards, across midnight too', () => {
    const trace = traceFrom('time,TC1\n00:00:01,27\n00:00:00,26\n23:59:59,25\n');
    expect([...trace.seconds]).toEqual([0, 1, 2]);
    expect(columns(trace)).toEqual({ TC1: [25, 26, 27] });
    expect(trace.notes.join()).toContain('backwards');
  });

  it('come out the same from a backward file with a coarse clock', () => {
    const rows = [0, 0, 1, 1, 2, 2].map((second, index) => `${second},${20 + index}`);
    const forward = traceFrom(`s,T\n${rows.join('\n')}\n`);
    const backward = traceFrom(`s,T\n${rows.toReversed().join('\n')}\n`);
    expect([...backward.seconds]).toEqual([...forward.seconds]);
    expect(columns(backward)).toEqual({ T: [20, 21, 22, 23, 24, 25] });
  });

  it('are put in order where single rows are out of place, with a note', () => {
    const trace = traceFrom('s,T\n0,20\n2,22\n1,21\n3,23\n');
    expect(columns(trace)).toEqual({ T: [20, 21, 22, 23] });
    expect(trace.notes.join()).toContain('step back');
  });

  it('are a problem where a clock starts again and two runs lie over each other', () => {
    const run = Array.from({ length: 30 }, (_, second) => `${second},25`).join('\n');
    expect(problemsOf(`s,T\n${run}\n${run}\n`)[0]).toMatchObject({ code: 'bad-time', line: 32 });
  });

  it('keep the last of two rows with the same time', () => {
    const trace = traceFrom('s,T\n0,20\n1,21\n1,21.5\n2,22\n3,23\n');
    expect([...trace.seconds]).toEqual([0, 1, 2, 3]);
    expect(columns(trace)).toEqual({ T: [20, 21.5, 22, 23] });
  });

  it('are spread where the clock is coarser than the sampling, a tick begun in its middle included', () => {
    const rows = [
      '10:00:00',
      '10:00:00',
      ...[1, 2, 3].flatMap((s) => Array<string>(5).fill(`10:00:0${s}`)),
      '10:00:04',
    ];
    const seconds = secondsOf(`time,T\n${rows.map((time, index) => `${time},${index}`).join('\n')}\n`);
    expect(seconds).toEqual(seconds.map((_, index) => Math.round(index * 0.2 * 1e6) / 1e6));
  });
});

describe('any text', () => {
  const cell = fc.oneof(
    fc.double({ noNaN: true, min: -50, max: 2000 }).map((value) => value.toFixed(2)),
    fc.constantFrom('', 'OPEN', 'NaN', '12:00:01', '1,5', '"', '2026-01-01', ';', 's', '°C', 'Infinity', '1e400'),
  );
  const csv = fc.array(
    fc.array(cell, { maxLength: 5 }).map((cells) => cells.join(',')),
    { maxLength: 12 },
  );

  it('is a trace with rising times and no NaN, or a problem that says what to do', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          csv.map((lines) => lines.join('\n')),
          fc.string(),
        ),
        (text) => {
          const reading = readTraceCsv(text);
          if (!reading.ok) {
            expect(reading.problems.length).toBeGreaterThan(0);
            return;
          }
          const { seconds, channels } = reading.trace;
          expect(
            seconds.every((time, index) => Number.isFinite(time) && (index === 0 || time > (seconds[index - 1] ?? 0))),
          ).toBe(true);
          for (const channel of channels) {
            expect(channel.values.every(Number.isFinite)).toBe(true);
            expect(channel.values).toHaveLength(seconds.length);
            expect(channel.marks).toHaveLength(seconds.length);
          }
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('gives the same trace with any delimiter, decimal sign and line end', () => {
    const table = fc.array(fc.tuple(fc.integer({ min: -400, max: 20_000 }), fc.integer({ min: -400, max: 20_000 })), {
      minLength: 2,
      maxLength: 20,
    });
    fc.assert(
      fc.property(table, fc.constantFrom(';', '\t'), fc.constantFrom('\n', '\r\n'), (rows, delimiter, end) => {
        const write = (part: string, sign: string, newline: string): string =>
          [
            ['Time (s)', 'A (°C)', 'B (°C)'],
            ...rows.map((row, index) =>
              [index * 0.2, ...row.map((value) => value / 10)].map((value) => value.toFixed(1).replace('.', sign)),
            ),
          ]
            .map((cells) => cells.join(part))
            .join(newline);
        expect(traceFrom(write(delimiter, ',', end))).toEqual(traceFrom(write(',', '.', '\n')));
      }),
    );
  });
});

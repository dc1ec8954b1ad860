import { readFileSync } from 'node:fs';
import { Subject, subjectKey } from '../../libs/domain/subject/subject.js';
import { workedHolds, workedParked, WorkedUnit, workedUnits, workedWarnings } from './worked-units.js';

const page = readFileSync(new URL('../../docs/demo.md', import.meta.url), 'utf8');

/** The part of the page under a heading, up to the next heading of any level. */
function section(heading: RegExp): string {
  const parts = page.split(/^(?=#+ )/m).filter((part) => heading.test(part.split('\n', 1)[0] ?? ''));
  if (parts.length !== 1) throw new Error(`${String(parts.length)} sections under ${String(heading)}`);
  return parts.join('');
}

/** Rows of the one table whose header starts with these cells, cut to those columns; none where there is no such table. */
function rows(text: string, columns: readonly string[]): string[][] {
  const tables = text
    .split(/\n\n+/)
    .map((block) => block.split('\n').filter((line) => line.startsWith('|')))
    .map((lines) =>
      lines.map((line) =>
        line
          .split('|')
          .slice(1, -1)
          .map((cell) => cell.trim()),
      ),
    )
    .filter(([header]) => columns.every((column, index) => header?.[index] === column));
  expect(tables.length).toBeLessThan(2);
  return (tables[0] ?? []).slice(2).map((cells) => cells.slice(0, columns.length));
}

function onBoard(subject: Subject): string {
  if (subject.kind === 'unit') return 'unit';
  return subject.kind === 'site' ? `site ${subject.refdes}` : `device ${subject.device}`;
}

function inShift(subject: Subject): string {
  return subject.kind === 'device' ? `device ${subject.device}` : `${subject.kind} ${subjectKey(subject)}`;
}

function parkedCells({ id, subject, code }: WorkedUnit['parked'][number]): string[] {
  return [id, subject, code];
}

describe('docs/demo.md and the figures that tests hold the book against', () => {
  it.each(workedUnits.map((unit) => [`${unit.assembly}/${unit.serial}`, unit] as const))('agree on %s', (key, unit) => {
    const text = section(new RegExp(`^## \\d+\\. ${key}:`));
    expect(rows(text, ['subject', 'limit', 'used', 'allowed', 'possible'])).toEqual(
      unit.budgets.map(({ subject, limit, used, allowed, possible }) => [
        onBoard(subject),
        limit,
        ...[used, allowed, possible].map(String),
      ]),
    );
    expect(rows(text, ['device', 'status', 'place'])).toEqual(
      unit.devices.map(({ device, status, place }) => [device, status, place ?? '—']),
    );
    expect(rows(text, ['hold', 'subject'])).toEqual(
      unit.holds.map(({ reason, subject }) => [reason, onBoard(subject)]),
    );
    expect(rows(text, ['warning', 'subject'])).toEqual(
      unit.warnings.map(({ code, subject }) => [code, onBoard(subject)]),
    );
    expect(rows(text, ['parked event', 'subject', 'code'])).toEqual(unit.parked.map(parkedCells));
    expect(/Status at the end: ([a-z-]+)\./.exec(text)?.[1]).toBe(unit.status);
  });

  it('agree on every hold, warning and parked event of the shift', () => {
    expect(rows(section(/^### Every hold/), ['hold', 'subject'])).toEqual(
      workedHolds.map(({ reason, subject }) => [reason, inShift(subject)]),
    );
    expect(rows(section(/^### Every warning/), ['warning', 'subject'])).toEqual(
      workedWarnings.map(({ code, subject }) => [code, inShift(subject)]),
    );
    expect(rows(section(/^### Every parked/), ['parked event', 'subject', 'code'])).toEqual(
      workedParked.map(parkedCells),
    );
  });

  it('work out no board that the tests do not hold the book against', () => {
    expect(page.match(/^## \d+\. /gm)).toHaveLength(workedUnits.length);
  });
});

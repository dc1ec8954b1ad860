import { EVENT_SUBJECTS, STATION_EVENT_TYPES } from '../../../libs/domain/events/station-event.js';
import { nearestWord } from '../../../libs/ledger/intake/nearest-word.js';
import { LocatedFile, Place } from '../files/located-file.js';
import { UnusableInput } from '../service/unusable-input.js';
import { EventRule, ImportMap, RowCondition, shortType, typeNamed } from './import-map.js';
import { isTimeZone, TimeFormat, timeFormat } from './local-time.js';
import { CellMap, ValueMap } from './value-map.js';

type Members = Readonly<Record<string, unknown>>;

const TOP = [
  'station',
  'timeZone',
  'dateFormat',
  'decimal',
  'encoding',
  'delimiter',
  'headerRow',
  'id',
  'skip',
  'events',
];
const RULE = ['type', 'when', 'station', 'subject', 'time', 'data'];
const CELL = ['column', 'as', 'format', 'values', 'default'];
const FORMS = { text: 'text', number: 'number', time: 'time', flag: 'flag' } as const;

/**
 * Reads how a log becomes events.
 * @throws UnusableInput with one line for everything that is wrong
 */
export function readImportMap(file: LocatedFile): ImportMap {
  return new MapReader(file).read();
}

class MapReader {
  private readonly faults: string[] = [];
  private readonly columns = new Map<string, string>();
  private format: TimeFormat = timeFormat('iso');

  constructor(private readonly file: LocatedFile) {}

  read(): ImportMap {
    const top = this.members(this.file.value, [], TOP);
    this.format = this.timeFormat(top['dateFormat'] ?? 'iso', ['dateFormat']);
    const rules = this.list(top['events'], ['events']).map((rule, n) => this.rule(rule, ['events', n], top['station']));
    if (rules.length === 0) this.fault(['events'], 'events must list what rows stand for, at least one');
    const { id, delimiter } = top;
    const map: ImportMap = {
      encoding: this.encoding(top['encoding'] ?? 'utf-8'),
      delimiter: delimiter === undefined ? undefined : this.oneOf(delimiter, ['delimiter'], [',', ';', '\t', '|']),
      headerRow: this.count(top['headerRow'] ?? 1, ['headerRow']),
      decimal: this.oneOf(top['decimal'] ?? '.', ['decimal'], ['.', ',']) === ',' ? ',' : '.',
      timeZone: this.timeZone(top['timeZone']),
      id: id === undefined ? undefined : this.value(id, ['id']),
      skip: this.list(top['skip'] ?? [], ['skip']).map((row, n) => this.condition(row, ['skip', n])),
      events: rules.flatMap((rule) => rule ?? []),
      columns: this.columns,
    };
    if (this.faults.length > 0) throw new UnusableInput(this.faults.join('\n'));
    return map;
  }

  private fault(place: Place, detail: string): void {
    this.faults.push(`${this.file.at(place)}: ${detail}.`);
  }

  private members(value: unknown, place: Place, known: readonly string[]): Members {
    if (!isMembers(value)) {
      this.fault(place, `must have members: ${known.join(', ')}`);
      return {};
    }
    for (const name of Object.keys(value).filter((given) => !known.includes(given))) {
      const nearest = nearestWord(name, known);
      const hint = nearest === undefined ? '' : `, did you mean ${nearest}?`;
      this.fault([...place, name], `${name} is not known here${hint} There are ${known.join(', ')}`);
    }
    return value;
  }

  private list(value: unknown, place: Place): readonly unknown[] {
    if (Array.isArray(value)) return value;
    if (value !== undefined) this.fault(place, 'must be a list');
    return [];
  }

  private rule(value: unknown, place: Place, station: unknown): EventRule | undefined {
    const members = this.members(value, place, RULE);
    const type = typeNamed(String(members['type']));
    if (type === undefined) {
      const names = STATION_EVENT_TYPES.map(shortType);
      const nearest = nearestWord(String(members['type']), names);
      const hint = nearest === undefined ? names.join(', ') : `did you mean ${nearest}?`;
      this.fault([...place, 'type'], `${String(members['type'])} is no type of event: ${hint}`);
      return undefined;
    }
    const from = members['station'] ?? station;
    if (from === undefined)
      this.fault(place, 'station is missing, here and at the top: which station speaks for the log?');
    if (members['subject'] === undefined) {
      const forms = EVENT_SUBJECTS[type].map((kind) => SUBJECTS[kind]);
      this.fault(place, `subject is missing: ${forms.join(' or ')}`);
    }
    if (members['time'] === undefined) this.fault(place, 'time is missing: the column that says when it happened');
    const stationAt = members['station'] === undefined ? ['station'] : [...place, 'station'];
    return {
      type,
      when: members['when'] === undefined ? new Map() : this.condition(members['when'], [...place, 'when']),
      station: this.value(from, stationAt),
      subject: this.value(members['subject'], [...place, 'subject']),
      time: this.time(members['time'], [...place, 'time']),
      data: this.value(members['data'] ?? {}, [...place, 'data']),
    };
  }

  /** The time of an event is a time without being told to be one. */
  private time(value: unknown, place: Place): ValueMap {
    const given = typeof value === 'string' && !value.includes('{') ? { column: value } : value;
    return this.value(isMembers(given) && 'column' in given ? { ...given, as: given['as'] ?? 'time' } : given, place);
  }

  private value(value: unknown, place: Place): ValueMap {
    if (typeof value === 'string') return this.template(value, place);
    if (Array.isArray(value)) {
      return { kind: 'list', items: value.map((item, n) => this.value(item, [...place, n])) };
    }
    if (!isMembers(value)) return { kind: 'constant', value };
    if ('column' in value) return this.cell(value, place);
    return {
      kind: 'object',
      members: Object.entries(value).map(([name, member]) => [name, this.value(member, [...place, name])] as const),
    };
  }

  private template(text: string, place: Place): ValueMap {
    if (!/[{}]/.test(text)) return { kind: 'constant', value: text };
    const parts = text.split(/(\{[^{}]*\})/).filter((part) => part !== '');
    if (parts.some((part) => !/^\{[^{}]+\}$/.test(part) && /[{}]/.test(part))) {
      this.fault(place, `"${text}" has a brace that is not part of a column in braces, such as {Serial}`);
    }
    const names = parts.map((part) => (part.startsWith('{') ? { column: part.slice(1, -1).trim() } : part));
    for (const part of names) if (typeof part !== 'string') this.column(part.column, place);
    return { kind: 'template', parts: names };
  }

  private cell(value: Members, place: Place): CellMap {
    const { column, as = 'text', format, values, default: fallback } = this.members(value, place, CELL);
    const columns = [column].flat().map(String);
    for (const name of columns) this.column(name, [...place, 'column']);
    const form = String(as);
    const isForm = Object.hasOwn(FORMS, form);
    if (!isForm) this.fault([...place, 'as'], `as must be one of ${Object.keys(FORMS).join(', ')}`);
    if (values !== undefined && !isMembers(values))
      this.fault([...place, 'values'], 'values must say what cells stand for');
    return {
      kind: 'cell',
      columns,
      as: isForm ? FORMS[form as keyof typeof FORMS] : 'text',
      format: format === undefined ? this.format : this.timeFormat(format, [...place, 'format']),
      values: isMembers(values) ? new Map(Object.entries(values)) : undefined,
      fallback,
    };
  }

  private condition(value: unknown, place: Place): RowCondition {
    if (!isMembers(value) || Object.keys(value).length === 0) {
      this.fault(place, 'must name columns, each with what has to stand in it, or a list of that');
      return new Map();
    }
    return new Map(
      Object.entries(value).map(([column, wanted]) => {
        this.column(column, [...place, column]);
        return [column, [wanted].flat().map((text) => wordIn(text))];
      }),
    );
  }

  private column(name: string, place: Place): void {
    if (!this.columns.has(name)) this.columns.set(name, this.file.at(place));
  }

  private timeFormat(value: unknown, place: Place): TimeFormat {
    try {
      return timeFormat(String(value));
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
      this.fault(place, error.message);
      return this.format;
    }
  }

  private timeZone(value: unknown): string {
    if (typeof value === 'string' && isTimeZone(value)) return value;
    const wanted = 'name the time zone of the clocks that the log was written by, such as Europe/Berlin or UTC';
    this.fault(
      ['timeZone'],
      value === undefined ? `timeZone is missing: ${wanted}` : `${wordIn(value)} is no time zone: ${wanted}`,
    );
    return 'UTC';
  }

  private encoding(value: unknown): string {
    try {
      return new TextDecoder(String(value)).encoding;
    } catch {
      this.fault(['encoding'], `${String(value)} is no encoding: use utf-8, windows-1252 or utf-16le`);
      return 'utf-8';
    }
  }

  private oneOf(value: unknown, place: Place, wanted: readonly string[]): string {
    const found = wanted.find((one) => one === value);
    if (found === undefined) this.fault(place, `must be one of ${wanted.map((one) => JSON.stringify(one)).join(' ')}`);
    return found ?? ',';
  }

  private count(value: unknown, place: Place): number {
    if (typeof value === 'number' && Number.isInteger(value) && value > 0) return value;
    this.fault(place, 'must be the number of a row, the first of which is 1');
    return 1;
  }
}

const SUBJECTS = {
  unit: 'such as "{Assembly}/{Serial}"',
  device: 'such as "devices/{Device}"',
  station: 'such as "stations/{Bath}"',
};

/** As it is written; nothing where there is nothing. */
function wordIn(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' ? value : JSON.stringify(value);
}

function isMembers(value: unknown): value is Members {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

import 'reflect-metadata';
import { isName } from '../../../libs/domain/subject/names.js';
import { ProblemError } from '../../api/http/problem.js';
import { ShapePipe } from '../../api/http/shape-pipe.js';
import { LocatedFile, Place } from '../files/located-file.js';
import { placeOf } from '../files/place-of.js';
import { FieldProblem } from '../service/service-problem.js';
import { UnusableInput } from '../service/unusable-input.js';
import { SETUP_SECTIONS, SetupSection } from './setup-sections.js';

/** A record as a setup file wants it: with every default that the service would fill in. */
export interface WantedRecord {
  readonly section: SetupSection;
  readonly name: string;
  readonly body: Readonly<Record<string, unknown>>;
  /** `FILE:LINE` of the record, or of a member of it. */
  readonly at: (pointer?: string) => string;
}

/**
 * Reads a setup file, and checks each record by the rules that the service has.
 * @returns the records in the order in which they are to be entered
 * @throws UnusableInput with one line for everything that is wrong
 */
export async function readSetupFile(file: LocatedFile): Promise<readonly WantedRecord[]> {
  const { value, path } = file;
  if (!isMembers(value)) {
    throw new UnusableInput(`${file.at([])}: a setup file has sections (${sectionNames()}) with names in them.`);
  }
  const unknown = Object.keys(value).filter((name) => !SETUP_SECTIONS.some((section) => section.name === name));
  const faults = unknown.map((name) => `${file.at([name])}: ${name} is no section; there are ${sectionNames()}.`);
  const wanted: WantedRecord[] = [];
  for (const section of SETUP_SECTIONS) {
    // A section without anything in it is as good as left out.
    const records = value[section.name] ?? {};
    if (!isMembers(records)) {
      faults.push(`${file.at([section.name])}: ${section.name} must hold names, each with a ${section.kind}.`);
      continue;
    }
    for (const [name, body] of Object.entries(records)) {
      const record = { section, name, at: (pointer = '') => file.at([section.name, name, ...placeOf(pointer)]) };
      const { shaped, problems } = await shapeOf(section, name, body);
      faults.push(...problems.map((problem) => `${record.at(problem.pointer)}: ${inWords(record, body, problem)}`));
      wanted.push({ ...record, body: shaped });
    }
  }
  if (faults.length > 0) throw new UnusableInput(faults.join('\n'));
  if (wanted.length === 0)
    throw new UnusableInput(`${path}: there is no record in it; sections are ${sectionNames()}.`);
  return wanted;
}

function sectionNames(): string {
  return SETUP_SECTIONS.map(({ name }) => name).join(', ');
}

async function shapeOf(
  section: SetupSection,
  name: string,
  body: unknown,
): Promise<{ shaped: WantedRecord['body']; problems: readonly FieldProblem[] }> {
  const misnamed = name.split(section.name === 'profiles' ? '@' : /$/).some((part) => !isName(part));
  if (misnamed) {
    return { shaped: {}, problems: [{ pointer: '', detail: 'must be a name of A-Z a-z 0-9 . _ : -, 1 to 64 long' }] };
  }
  try {
    const shaped: unknown = await new ShapePipe().transform(body, { type: 'body', metatype: section.body });
    if (typeof shaped !== 'object' || shaped === null) throw new Error('a record must be described by a class');
    // Members that were left out are undefined in a class; in JSON they are not there.
    const plain = JSON.parse(JSON.stringify(shaped)) as WantedRecord['body'];
    return { shaped: plain, problems: section.problems(name, shaped) };
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    const { errors = [], detail } = error.document;
    return { shaped: {}, problems: errors.length > 0 ? errors : [{ pointer: '', detail }] };
  }
}

function inWords(
  { section, name }: Pick<WantedRecord, 'section' | 'name'>,
  body: unknown,
  { pointer, detail }: FieldProblem,
): string {
  const given = memberAt(body, placeOf(pointer));
  // The slip that YAML invites most: a level, a serial or a revision that looks like a number.
  const isUnquoted = typeof given === 'number' && detail.includes('"');
  const hint = isUnquoted ? ` (it is the number ${String(given)} here: put it in quotes)` : '';
  return `${section.kind} ${name}${pointer === '' ? '' : ` ${pointer}`} ${detail}${hint}`;
}

function memberAt(value: unknown, place: Place): unknown {
  return place.reduce<unknown>(
    (at, step) => (typeof at === 'object' && at !== null ? Reflect.get(at, step) : undefined),
    value,
  );
}

function isMembers(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

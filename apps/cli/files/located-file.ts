import { readFile } from 'node:fs/promises';
import { isAlias, isMap, isScalar, isSeq, LineCounter, parseDocument, type Document, type Node } from 'yaml';
import { errorCode } from '../../house/error-code.js';
import { UnusableInput } from '../service/unusable-input.js';

/** Larger than a file that people write by hand. */
const MOST_BYTES = 16 * 2 ** 20;
/** Repeating by anchors is fine; a file that unfolds without end is not. */
const MOST_ALIASES = 1_000;

export type Place = readonly (string | number)[];

/** A YAML or JSON file as a value that knows where in the file its parts stand. */
export class LocatedFile {
  private constructor(
    readonly path: string,
    readonly value: unknown,
    private readonly document: Document,
    private readonly lines: LineCounter,
  ) {}

  /** @throws UnusableInput that says what is wrong in which line */
  static async read(path: string): Promise<LocatedFile> {
    return LocatedFile.parse(path, await textOf(path));
  }

  /** @throws UnusableInput that says what is wrong in which line */
  static parse(path: string, text: string): LocatedFile {
    const lines = new LineCounter();
    const document = parseDocument(text, { lineCounter: lines, prettyErrors: false, stringKeys: true, merge: true });
    const faults = [...document.errors, ...document.warnings].map(
      ({ pos, message }) => `${path}:${String(lines.linePos(pos[0]).line)}: ${message}`,
    );
    if (faults.length > 0) throw new UnusableInput(faults.join('\n'));
    try {
      const value: unknown = document.toJS({ maxAliasCount: MOST_ALIASES });
      return new LocatedFile(path, value, document, lines);
    } catch (error) {
      throw new UnusableInput(`${path}: ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  /** `FILE:LINE` of a part, or of the innermost part around it that is there. */
  at(place: Place): string {
    return `${this.path}:${String(this.line(place))}`;
  }

  /** Of the first line, 1. */
  line(place: Place): number {
    let at: unknown = this.document.contents;
    let start = isNode(at) ? at.range?.[0] : undefined;
    for (const step of place) {
      if (isAlias(at)) at = at.resolve(this.document);
      const [key, inner] = within(at, step);
      if (inner === undefined) break;
      at = inner;
      start = (key ?? inner).range?.[0] ?? start;
    }
    return start === undefined ? 1 : this.lines.linePos(start).line;
  }
}

function within(at: unknown, step: string | number): [Node | undefined, Node | undefined] {
  if (isSeq(at)) {
    const item = at.items[Number(step)];
    return [undefined, isNode(item) ? item : undefined];
  }
  if (!isMap(at)) return [undefined, undefined];
  const pair = at.items.find(({ key }) => isScalar(key) && String(key.value) === String(step));
  const key = isScalar(pair?.key) ? pair.key : undefined;
  // A member without a value stands where its name does.
  return [key, isNode(pair?.value) ? pair.value : key];
}

function isNode(value: unknown): value is Node {
  return isScalar(value) || isMap(value) || isSeq(value) || isAlias(value);
}

async function textOf(path: string): Promise<string> {
  try {
    const bytes = await readFile(path);
    if (bytes.length > MOST_BYTES) throw new UnusableInput(`${path} has more than 16 MiB: is it the right file?`);
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch (error) {
    if (error instanceof UnusableInput) throw error;
    if (isBadText(error)) throw new UnusableInput(`${path} is not UTF-8 text: save it as UTF-8.`);
    throw new UnusableInput(`${path} cannot be read (${errorCode(error) ?? String(error)}).`);
  }
}

/** As TextDecoder refuses bytes. */
function isBadText(error: unknown): boolean {
  return errorCode(error) === 'ERR_ENCODING_INVALID_ENCODED_DATA';
}

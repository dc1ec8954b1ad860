import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { InvalidValue } from './parse-values.js';
import { secretStatsFault } from './secret-file-mode.js';

/** Reads variables one by one and collects what is wrong with them instead of stopping at the first. */
export class EnvironmentReader {
  readonly problems: string[] = [];
  /** What may stay as it is, but should not. */
  readonly warnings: string[] = [];

  constructor(private readonly env: NodeJS.ProcessEnv) {}

  /** True if the variable, or its `_FILE` form, is set to something. */
  has(name: string): boolean {
    return this.text(name) !== undefined || this.text(`${name}_FILE`) !== undefined;
  }

  /** The parsed variable, or undefined when it is not set or wrong (then a problem is noted). */
  value<T>(name: string, parse: (text: string) => T): T | undefined {
    const text = this.text(name);
    return text === undefined ? undefined : this.parsed(name, text, parse);
  }

  /** `0` or `1`, else the default. */
  flag(name: string, byDefault: boolean): boolean {
    const parse = (text: string): boolean => {
      if (text !== '0' && text !== '1') throw new InvalidValue(`is "${text}"`, '0 or 1');
      return text === '1';
    };
    return this.value(name, parse) ?? byDefault;
  }

  /** A variable that may instead be given as the path of a file that holds it (`NAME_FILE`), as secrets are mounted. */
  secret<T>(name: string, parse: (text: string) => T): T | undefined {
    const fileVariable = `${name}_FILE`;
    const path = this.text(fileVariable);
    if (path === undefined) return this.value(name, parse);
    if (this.text(name) !== undefined) {
      this.problem(`${name} and ${fileVariable} are both set: expected only one of them`);
      return undefined;
    }
    const content = this.fileContent(fileVariable, path);
    return content === undefined ? undefined : this.parsed(fileVariable, content, parse);
  }

  problem(line: string): void {
    this.problems.push(line);
  }

  private text(name: string): string | undefined {
    const text = this.env[name]?.trim();
    return text === '' ? undefined : text;
  }

  private fileContent(fileVariable: string, path: string): string | undefined {
    try {
      const content = this.secretContent(fileVariable, path).trim();
      if (content !== '') return content;
      this.problem(`${fileVariable}: the file ${path} is empty: expected the value in it`);
    } catch (error) {
      const code = typeof error === 'object' && error !== null && 'code' in error ? String(error.code) : 'unreadable';
      this.problem(
        `${fileVariable}: the file ${path} cannot be read (${code}): expected a readable file with the value`,
      );
    }
    return undefined;
  }

  /** Looks at the mode of the very file that it reads. */
  private secretContent(fileVariable: string, path: string): string {
    const file = openSync(path, 'r');
    try {
      const fault = secretStatsFault(path, fstatSync(file));
      if (fault !== undefined) {
        const line = `${fileVariable}: the file ${path} ${fault.wrong}: make it its owner's alone with "chmod 600"`;
        (fault.isFatal ? this.problems : this.warnings).push(line);
      }
      return readFileSync(file, 'utf8');
    } finally {
      closeSync(file);
    }
  }

  private parsed<T>(variable: string, text: string, parse: (text: string) => T): T | undefined {
    try {
      return parse(text);
    } catch (error) {
      if (!(error instanceof InvalidValue)) throw error;
      this.problem(`${variable} ${error.wrong}: expected ${error.expected}`);
      return undefined;
    }
  }
}

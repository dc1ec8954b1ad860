const MARK = '\u0001raw';

/** JSON with stretches in it that JSON.stringify would not write: numbers of any length, members given twice. */
export class RawJson {
  private readonly pieces: string[] = [];

  /** A stand-in for a value, or for a key whose value is null, that is to be written as this text. */
  put(text: string): string {
    this.pieces.push(text);
    return `${MARK}${String(this.pieces.length - 1)};`;
  }

  /** Undefined is written as nothing. */
  write(value: unknown): string {
    const text = value === undefined ? '' : JSON.stringify(value);
    return text.replace(/"\\u0001raw(\d+);"(:null)?/g, (_, place: string) => this.pieces[Number(place)] ?? '');
  }
}

/** Long enough that writing costs little, short enough that many exports at once need little memory. */
const CHUNK_CHARACTERS = 64 * 1024;

/** Gathers texts into pieces of UTF-8 of some 64 KiB; one text that is longer stays one piece. */
export async function* textChunks(texts: AsyncIterable<string>): AsyncGenerator<Uint8Array> {
  let gathered: string[] = [];
  let length = 0;
  for await (const text of texts) {
    gathered.push(text);
    length += text.length;
    if (length < CHUNK_CHARACTERS) continue;
    yield Buffer.from(gathered.join(''), 'utf8');
    gathered = [];
    length = 0;
  }
  if (length > 0) yield Buffer.from(gathered.join(''), 'utf8');
}

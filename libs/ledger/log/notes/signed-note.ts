import { fromBase64, toBase64 } from './base64.js';
import { isKeyName, KEY_ID_BYTES } from './verifier-key.js';

/** Longest note that is read, in UTF-16 code units, and most signatures under it (C2SP signed-note asks for 16 at least). */
export const MAX_NOTE = 128 * 1024;
const MAX_SIGNATURES = 16;
/** Control characters but the line end, and halves of surrogate pairs, which UTF-8 does not know. */
const NOT_IN_NOTES = /[^\P{Cc}\n\u007f-\u009f]|\p{Cs}/u;

/** A signature line. */
export interface NoteSignature {
  readonly name: string;
  readonly keyId: Uint8Array;
  readonly signature: Uint8Array;
}

export interface SignedNote {
  /** With its last line end: what is signed are the UTF-8 bytes of it. */
  readonly text: string;
  readonly signatures: readonly NoteSignature[];
}

/**
 * Signs a text as a note (C2SP signed-note).
 * @param keyId 4 bytes
 * @param sign Ed25519 over the UTF-8 bytes of the text
 * @throws RangeError for a text that no note may have, or a name that no key may have
 */
export function signNote(
  text: string,
  name: string,
  keyId: Uint8Array,
  sign: (message: Uint8Array) => Uint8Array,
): string {
  if (!text.endsWith('\n')) throw new RangeError('The text of a note ends with a line end: add one.');
  const signature = sign(new TextEncoder().encode(text));
  const note = `${text}\n— ${name} ${toBase64(Uint8Array.of(...keyId, ...signature))}\n`;
  if (keyId.length !== KEY_ID_BYTES || parseNote(note)?.text !== text) {
    throw new RangeError(
      'The text, the name of the key or its id cannot stand in a note: take out control characters.',
    );
  }
  return note;
}

/** Takes a note apart (C2SP signed-note, Format); its signatures are not checked. Undefined for what is no note. */
export function parseNote(note: string): SignedNote | undefined {
  if (note.length > MAX_NOTE || NOT_IN_NOTES.test(note)) return undefined;
  const end = note.lastIndexOf('\n\n');
  const below = note.slice(end + 2);
  if (end < 0 || !below.endsWith('\n')) return undefined;
  const lines = below.slice(0, -1).split('\n');
  if (lines.length > MAX_SIGNATURES) return undefined;
  const signatures = lines.flatMap((line) => parseSignature(line) ?? []);
  return signatures.length === lines.length ? { text: note.slice(0, end + 1), signatures } : undefined;
}

function parseSignature(line: string): NoteSignature | undefined {
  const [dash, name = '', encoded = '', ...rest] = line.split(' ');
  const bytes = fromBase64(encoded);
  if (dash !== '—' || rest.length > 0 || !isKeyName(name) || !bytes || bytes.length <= KEY_ID_BYTES) return undefined;
  return { name, keyId: bytes.slice(0, KEY_ID_BYTES), signature: bytes.slice(KEY_ID_BYTES) };
}

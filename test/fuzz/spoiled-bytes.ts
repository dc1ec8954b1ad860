import { brotliCompressSync, deflateSync, gzipSync } from 'node:zlib';
import { Dice } from './dice.js';

/** Ways to spoil a body as bytes; headers go along where it takes some to say so. */
export type SpoiledBytes = { readonly body: Buffer; readonly headers?: Readonly<Record<string, string>> };

/** A hundred MB of nothing in a hundred kB. */
const BOMB = gzipSync(Buffer.alloc(100_000_000));

export const BYTE_SPOILERS: Readonly<Record<string, (text: string, dice: Dice) => SpoiledBytes>> = {
  'cut off': (text, dice) => ({ body: Buffer.from(text.slice(0, dice.below(text.length + 1))) }),
  'followed by more': (text, dice) => ({
    body: Buffer.from(text + dice.one(['}', ',', '\0', 'x', text, '//', '\n\n'])),
  }),
  'other bytes': (text, dice) => {
    const body = Buffer.from(text);
    for (let n = 0; n < 3 && body.length > 0; n += 1) body[dice.below(body.length)] = dice.below(256);
    return { body };
  },
  'no UTF-8': (text, dice) => ({
    body: Buffer.concat([Buffer.from([0xff, 0xfe, 0x80]), Buffer.from(text, dice.one(['latin1', 'utf16le', 'utf8']))]),
  }),
  'byte order mark': (text) => ({ body: Buffer.from(`\ufeff${text}`) }),
  noise: (_text, dice) => ({ body: Buffer.from(Array.from({ length: dice.below(400) }, () => dice.below(256))) }),
  nothing: () => ({ body: Buffer.alloc(0) }),
  large: (text, dice) => ({ body: Buffer.from(`${text}${' '.repeat(dice.one([1_048_576, 2_100_000]))}`) }),
  gzip: (text) => ({ body: gzipSync(text), headers: { 'content-encoding': 'gzip' } }),
  deflate: (text) => ({ body: deflateSync(text), headers: { 'content-encoding': 'deflate' } }),
  brotli: (text) => ({ body: brotliCompressSync(text), headers: { 'content-encoding': 'br' } }),
  bomb: () => ({ body: BOMB, headers: { 'content-encoding': 'gzip' } }),
  'not packed': (text, dice) => ({
    body: Buffer.from(text),
    headers: { 'content-encoding': dice.one(['gzip', 'identity, gzip', 'x', '', 'GZIP']) },
  }),
};
